//! Laying pieces on a strip of cloth with the least length. Millimetres; knows outlines and turns, not garments.
