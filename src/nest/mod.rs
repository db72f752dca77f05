//! Laying pieces on a strip of cloth with the least length. Millimetres; knows outlines and turns, not garments.

mod chance;
mod grid;
mod job;
mod kept;
mod layout;
mod lot;
mod poles;
mod proof;
mod search;
mod seek;
mod separate;
mod start;
mod table;
mod widths;

pub use job::{
    CLEARANCE, Fault, Job, LEAST_REPEAT, Lines, MOST_PIECES, MOST_POINTS, Piece, Repeat, Strip, Turn, Turns, Zone,
};
pub use kept::Kept;
pub use layout::{Found, Layout, Placement, Proof};
pub use proof::{Breach, check};
pub use search::{Budget, Progress, bottom_left, solve};
pub use widths::{Row, Widths, widths};
