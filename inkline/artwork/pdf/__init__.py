"""Pages of PDF files as artwork."""
