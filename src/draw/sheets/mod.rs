//! One file a sheet: what it shows, to scale, from what the outcome already holds.

pub mod evenness;
pub mod flow;
pub mod hours;
pub mod symbols;
pub mod lay;
pub mod widths;
pub mod brake;
mod circuit;
pub mod cuts;
pub mod heddle;
pub mod knob;
pub mod loom;
pub mod machines;
pub mod parts;
pub mod shed;
pub mod spinner;
pub mod wiring;
mod view;
pub mod cloth;
pub mod draft;
pub mod ribbons;
pub mod section;
pub mod threading;
pub mod warping;
pub mod pattern;
pub mod room;
pub mod sewing;
