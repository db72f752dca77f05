//! One file a sheet: what it shows, to scale, from what the outcome already holds.

pub mod flow;
pub mod hours;
pub mod symbols;
pub mod lay;
pub mod widths;
