//! Pieces of a garment from a body: curves, seams, notches, sewing order. Millimetres; knows no cloth width but what it is told.
