//! The registry of published formulas and the typed calls through which the chain uses them: one file a topic, one entry a
//! formula. Serves `explain`, `formula`, the handbook screen, and the tests that compare text, code and printed values.

pub mod registry;

pub mod amounts;
pub mod cloth;
pub mod counts;
pub mod fibre;
pub mod garment;
pub mod hours;
pub mod loom;
pub mod print;
pub mod season;
pub mod sources;
pub mod spinner;
pub mod yarn;

use registry::{Entry, Solve};

/// A chapter of the handbook.
pub struct Topic {
    pub name: &'static str,
    pub title: &'static str,
    pub entries: &'static [&'static dyn Entry],
    pub solves: &'static [&'static Solve],
}

macro_rules! topics {
    ($($module:ident $title:literal [$($solve:path),*];)*) => {
        /// All chapters, in the order of the chain.
        pub static TOPICS: &[Topic] = &[$(Topic {
            name: stringify!($module), title: $title, entries: $module::ALL, solves: &[$(&$solve),*],
        }),*];
    };
}
topics! {
    counts "Counts and reeds" [];
    fibre "Fibre" [];
    yarn "Yarn" [];
    cloth "Cloth" [cloth::CRIMP_IN_REED];
    garment "Garment" [];
    amounts "Warp, weft and fibre to prepare" [];
    season "Season" [];
    spinner "Spinner" [];
    loom "Loom" [];
    print "Print" [];
    hours "Hours" [];
}

/// Every entry of every chapter.
pub fn all() -> impl Iterator<Item = &'static dyn Entry> {
    TOPICS.iter().flat_map(|topic| topic.entries.iter().copied())
}

/// The entry of that name.
pub fn find(name: &str) -> Option<&'static dyn Entry> {
    all().find(|entry| entry.name() == name)
}
