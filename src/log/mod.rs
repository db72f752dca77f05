//! The bench log: SQLite beside the plan. It stores what was measured, as typed and in SI, and gives it back; it estimates
//! nothing ([`crate::measure`] does) and draws nothing.
//!
//! Nothing is ever destroyed. A correction is a new row that points at what it corrects, an undo likewise, and an undo can
//! itself be undone; triggers in the file hold this against other programs too. Every write is one transaction, on the disk
//! before the call returns (WAL, full sync), so a kill at any moment loses nothing that was acknowledged. The time is handed in
//! by the caller. Another program's file, a newer form, a full disk, a write-protected folder and a lock are told apart in words.

pub mod card;
mod csv;
mod draft;
pub mod kinds;
mod moment;
mod open;
pub mod page;
mod progress;
pub mod samples;
mod store;
mod trouble;

pub use csv::Imported;
pub use draft::{Draft, Figure};
pub use moment::Moment;
pub use open::{Log, Options};
pub use progress::Progress;
pub use store::{Act, Entry, Row};
pub use trouble::{Fault, Result, Trouble};
