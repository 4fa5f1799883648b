"""The pages of the site, rendered at build time only."""
