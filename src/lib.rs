//! Clothwright plans a hand-spun, hand-woven, printed garment and the two machines that make it, from one plan file.
//!
//! The folders are layers, in the order below; each may use those above it only (held by `tests/it/layers.rs`). See
//! `ARCHITECTURE.md` for the map.
#![forbid(unsafe_code)]

pub mod units;
pub mod diag;
pub mod geom;
pub mod nest;
pub mod formulas;
pub mod trade;
pub mod weave;
pub mod plan;
pub mod garment;
pub mod machine;
pub mod print;
pub mod chain;
pub mod checks;
pub mod measure;
pub mod outlook;
pub mod draw;
pub mod disk;
pub mod log;
pub mod book;
pub mod web;
pub mod cli;
