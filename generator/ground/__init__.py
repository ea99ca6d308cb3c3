"""What every stage stands on: where a fact was written, what was found, units, wording, files."""
