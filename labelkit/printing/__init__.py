"""Words and layouts in, boxes in mm, PDF out."""
