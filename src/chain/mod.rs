//! The chain: decide once, run in numbers only, work up the outcome.

pub mod assumed;
pub mod decide;
pub mod given;
pub mod hardware;
pub mod keys;
pub mod lay;
pub mod machines;
pub mod mode;
pub mod prints;
pub mod root;
pub mod settle;
pub mod stages;
pub mod wishes;
