"""What it looks like: results turned into drawings, which know geometry and ink but no pages."""
