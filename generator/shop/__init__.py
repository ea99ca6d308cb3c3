"""What the shop has: YAML and CSV in, frozen records out; each knows its file and line."""
