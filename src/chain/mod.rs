//! The chain: decide once, run in numbers only, work up the outcome.

pub mod keys;
pub mod mode;
