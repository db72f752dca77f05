//! Plane shapes in millimetres, on `kurbo` points and paths: areas, offsets, flattening. Knows no garment and no machine.
