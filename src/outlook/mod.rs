//! Outlook: the outcome of a plan with its ranges and mends, trials, what matters, what to measure next, forecasts and the search over
//! designs. Stands on the chain and its checks; draws nothing and prints nothing.

pub mod ahead;
pub mod chance;
pub mod day;
pub mod explain;
pub mod explore;
pub mod json;
pub mod learned;
pub mod matters;
pub mod next;
pub mod outcome;
pub mod trials;
pub mod widths;

pub use outcome::{Outcome, add_pairs, work_up};
