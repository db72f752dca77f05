//! What is woven: which thread goes over which, and how the threads come to lie that way.
//!
//! A weave is a block of crossings that repeats ([`Drawdown`]); it is built from a name ([`Weave`]), or from a draft of
//! threading, tie-up and treadling ([`Draft`]), which also travels as a WIF text ([`wif`]). [`interlacing`] counts what the
//! setting of a cloth needs of it; [`heddles`], [`threading`] and [`warping`] turn it into a loom's slots, eyes and shafts
//! and the order of the work. Threads, shafts and picks are numbered from 1 where people read them and from 0 inside.
//! Knows no yarn, no force and no plan.

pub mod colour;
pub mod draft;
pub mod drawdown;
pub mod heddles;
pub mod interlacing;
pub mod set;
pub mod threading;
pub mod warping;
pub mod weaves;
pub mod wif;

pub use colour::{Colour, ColourOrder, Middle};
pub use draft::{Draft, Lifts, Shed};
pub use drawdown::Drawdown;
pub use heddles::{Hanging, Heddles};
pub use interlacing::Interlacing;
pub use set::Set;
pub use threading::{Thread, thread_list};
pub use weaves::Weave;

/// Most shafts or treadles a draft may have.
pub const MOST_SHAFTS: usize = 256;
/// Most ends or picks a draft may have.
pub const MOST_THREADS: usize = 100_000;
/// Most crossings a block that is looked at crossing by crossing may have.
pub const MOST_CROSSINGS: usize = 1 << 24;

/// Why a draft or a weave cannot be had.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// What is wrong, with the number that is wrong.
    pub message: String,
    /// What would be right.
    pub help: String,
}

impl Fault {
    pub(crate) fn new(message: impl Into<String>, help: impl Into<String>) -> Self {
        Fault { message: message.into(), help: help.into() }
    }
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.help.is_empty() { f.write_str(&self.message) } else { write!(f, "{}; {}", self.message, self.help) }
    }
}
impl std::error::Error for Fault {}
