//! The workshop book: one self-contained page to print.
