"""Records: a reading that is a curve, from a file of columns or from typed pairs."""
