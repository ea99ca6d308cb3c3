"""What is printed: sheets set in exact millimetres, each a PDF."""
