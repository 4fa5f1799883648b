"""The machinery that turns the sources into dist/, used at build time and by the tests only."""
