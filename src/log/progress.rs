//! How far a step has come, for the screens at the bench: one row a tap, on the disk before the screen counts on. The last row of
//! a step is where it stands; the rows before it are the pace.

use super::moment::Moment;
use super::open::Log;
use super::trouble::{Fault, Result, Trouble};
use rusqlite::{Connection, OptionalExtension, Row, params};

/// Where a step stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Number of the change; later changes have greater numbers, over all steps.
    pub revision: i64,
    /// Name of the step or screen, 1 to 40 letters.
    pub step: String,
    /// Threads, picks or turns done.
    pub at: u32,
    /// What else the screen must remember, at most 8 000 letters.
    pub state: String,
    pub written: Moment,
}

/// More than this no warp and no cloth has.
const MOST: u32 = 1_000_000_000;

fn progress(r: &Row) -> rusqlite::Result<Progress> {
    let (revision, step, at, state) = (r.get(0)?, r.get(1)?, r.get(2)?, r.get(3)?);
    Ok(Progress { revision, step, at, state, written: Moment::from_millis(r.get(4)?) })
}

const COLUMNS: &str = "SELECT revision, step, at, state, written FROM progress";

fn last(db: &Connection, step: &str) -> Result<Option<Progress>> {
    let mut query = db.prepare_cached(&format!("{COLUMNS} WHERE step = ? ORDER BY revision DESC LIMIT 1"))?;
    Ok(query.query_row([step], progress).optional()?)
}

impl Log {
    /// Where `step` stands, if it was begun.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn progress(&self, step: &str) -> Result<Option<Progress>> {
        last(&self.db, step)
    }

    /// Moves `step` to `at`. `seen` is the revision the screen shows, 0 for none: if another screen moved it since, nothing is
    /// written. Sending the same move twice writes it once.
    ///
    /// # Errors
    /// [`Trouble::Moved`] with where it stands, [`Trouble::Entry`] for a name, number or state out of bounds, or what kept it
    /// from being written.
    pub fn set_progress(&mut self, step: &str, at: u32, state: &str, seen: i64, now: Moment) -> Result<Progress> {
        let letters = step.chars().count();
        if !(1..=40).contains(&letters) || step.contains('\0') {
            return Err(Trouble::Entry(vec![Fault::new(Some("step"), "has 1 to 40 letters")]));
        }
        if at > MOST || state.chars().count() > 8000 || state.contains('\0') {
            return Err(Trouble::Entry(vec![Fault::new(Some("step"), "has come too far, or remembers too much")]));
        }
        let tx = self.begin()?;
        if let Some(stands) = last(&tx, step)?
            && stands.revision != seen
        {
            // The same tap once more, because its answer was lost.
            if stands.at == at && stands.state == state && before(&tx, &stands)? == seen {
                return Ok(stands);
            }
            return Err(Trouble::Moved { at: stands.at, revision: stands.revision });
        }
        tx.prepare_cached("INSERT INTO progress (step, at, state, written) VALUES (?, ?, ?, ?)")?.execute(params![
            step,
            at,
            state,
            now.millis()
        ])?;
        let revision = tx.last_insert_rowid();
        tx.commit()?;
        Ok(Progress { revision, step: step.to_string(), at, state: state.to_string(), written: now })
    }

    /// Where every step stands, by name.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn all_progress(&self) -> Result<Vec<Progress>> {
        let text =
            format!("{COLUMNS} WHERE revision IN (SELECT max(revision) FROM progress GROUP BY step) ORDER BY step");
        let mut query = self.db.prepare_cached(&text)?;
        Ok(query.query_map([], progress)?.collect::<rusqlite::Result<_>>()?)
    }

    /// The last `most` moves of a step, oldest first: the pace.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn moves(&self, step: &str, most: u32) -> Result<Vec<Progress>> {
        let mut query = self.db.prepare_cached(&format!("{COLUMNS} WHERE step = ? ORDER BY revision DESC LIMIT ?"))?;
        let mut list: Vec<Progress> =
            query.query_map(params![step, most], progress)?.collect::<rusqlite::Result<_>>()?;
        list.reverse();
        Ok(list)
    }
}

/// Revision of the step before this move; 0 when it was its first.
fn before(db: &Connection, stands: &Progress) -> Result<i64> {
    let text = "SELECT coalesce(max(revision), 0) FROM progress WHERE step = ? AND revision < ?";
    Ok(db.query_row(text, params![stands.step, stands.revision], |r| r.get(0))?)
}
