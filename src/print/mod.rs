//! Artwork, separation, dots and stencils. Pixels and micrometres; knows no PDF.
