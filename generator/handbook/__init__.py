"""What is read: pages and navigation out of the shop's records and results, through Jinja2."""
