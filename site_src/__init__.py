"""The site: rendering (at build time and in the browser), templates, guides, static files."""
