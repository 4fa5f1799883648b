"""One form a module: its fields and its solve(). `calc.catalogue` lists them."""
