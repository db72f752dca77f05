//! One file a sheet: what it shows, to scale, from what the outcome already holds.
