"""One form a module: its fields and its solve(). `calc.forms.catalogue` lists them."""
