//! Spinner and loom as shapes, netlist and cutting list.
//!
//! Plain functions on plain structs: what the chain of numbers decided comes in, parts, meshes, tables and truth tables come
//! out. Inside a shape lengths are millimetres. Knows no plan text, no picture and no file format.

pub mod brake;
pub mod cutting;
pub mod drive;
pub mod heddle;
pub mod loom;
pub mod motor;
pub mod netlist;
pub mod pulley;
pub mod ratchet;
pub mod shape;
pub mod shopping;
pub mod spinner;
pub mod turned;
pub mod whirl;

/// Why a machine or a part of it cannot be made as asked: what it is about, and words for the maker.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The plan's word for the thing: "pulleys", "beam", "cutting".
    pub about: &'static str,
    /// What was given, what is accepted, what to do.
    pub words: String,
}

impl Refusal {
    /// A refusal about one thing.
    pub fn new(about: &'static str, words: impl Into<String>) -> Self {
        Refusal { about, words: words.into() }
    }
}

impl std::fmt::Display for Refusal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.about, self.words)
    }
}
impl std::error::Error for Refusal {}
