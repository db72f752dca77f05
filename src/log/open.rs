//! Opening a log: whose file it is, which form it has, whether it is sound, and bringing an older form up to this one.
//!
//! The file may be hostile: it is looked at before it is written to, its tables and triggers must be exactly those this program
//! makes, and every check constraint is tried on every row.

use super::trouble::{Result, Trouble};
use rusqlite::{Connection, ErrorCode, OpenFlags, TransactionBehavior};
use std::path::Path;
use std::time::Duration;

/// "CLWR": whose file it is.
const APPLICATION: i64 = 0x434C_5752;

/// The forms the file has had, each a step from the one before.
const STEPS: [&str; 3] =
    [include_str!("steps/1-entries.sql"), include_str!("steps/2-progress.sql"), include_str!("steps/3-marks.sql")];

/// A file larger than this is not opened.
const GREATEST_FILE: u64 = 1 << 30;

/// How to open.
#[derive(Clone, Copy, Debug)]
pub struct Options {
    /// Never write, and open where writing is not possible.
    pub read_only: bool,
    /// The file's greatest size in bytes.
    pub most_bytes: u64,
    /// How long to wait for another program.
    pub wait: Duration,
}

impl Default for Options {
    fn default() -> Self {
        Options { read_only: false, most_bytes: GREATEST_FILE, wait: Duration::from_secs(5) }
    }
}

/// An open log.
#[derive(Debug)]
pub struct Log {
    pub(super) db: Connection,
}

impl Log {
    /// Opens the log at `path`, making it if there is none and bringing an older form up to this one.
    ///
    /// # Errors
    /// Any of [`Trouble`] but those about single entries; the file is then as it was.
    pub fn open(path: &Path, options: &Options) -> Result<Self> {
        if std::fs::metadata(path).is_ok_and(|m| m.len() > GREATEST_FILE || m.is_dir()) {
            return Err(Trouble::NotALog(path.into(), "it is a folder, or far too large"));
        }
        let mut db = connect(path, options)?;
        db.busy_timeout(options.wait)?;
        let have = whose(&db, path)?;
        let known = STEPS.len() as i64;
        if have > known {
            return Err(Trouble::Newer { have, known });
        }
        db.execute_batch("PRAGMA foreign_keys=ON; PRAGMA trusted_schema=OFF; PRAGMA cell_size_check=ON;")?;
        if options.read_only {
            db.execute_batch("PRAGMA query_only=ON;")?;
            if have < known {
                return Err(Trouble::Older);
            }
        } else {
            prepare(&mut db, options)?;
        }
        sound(&db)?;
        Ok(Log { db })
    }

    /// Which form the file has, counted from 1.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn form(&self) -> Result<i64> {
        Ok(self.db.pragma_query_value(None, "user_version", |r| r.get(0))?)
    }

    /// Whether what was acknowledged is on the disk before the call returns: write-ahead log and full sync are on.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn is_durable(&self) -> Result<bool> {
        let mode: String = self.db.pragma_query_value(None, "journal_mode", |r| r.get(0))?;
        let sync: i64 = self.db.pragma_query_value(None, "synchronous", |r| r.get(0))?;
        Ok(mode == "wal" && sync == 2)
    }

    /// Looks at every page and every row.
    ///
    /// # Errors
    /// [`Trouble::Damaged`] with the first thing found.
    pub fn examine(&self) -> Result<()> {
        verdict(&self.db, "integrity_check")
    }
}

fn connect(path: &Path, options: &Options) -> Result<Connection> {
    let flags = if options.read_only {
        OpenFlags::SQLITE_OPEN_READ_ONLY
    } else {
        OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE
    };
    let opened = Connection::open_with_flags(path, flags | OpenFlags::SQLITE_OPEN_NO_MUTEX);
    let readable = |db: &Connection| db.pragma_query_value(None, "schema_version", |r| r.get::<_, i64>(0));
    let failed = match opened {
        Ok(db) => match readable(&db) {
            Ok(_) => return Ok(db),
            Err(error) => error,
        },
        Err(error) => error,
    };
    match failed.sqlite_error_code() {
        // A write-ahead log on a read-only disk wants to write beside it; with nothing waiting there it need not.
        Some(ErrorCode::CannotOpen | ErrorCode::ReadOnly) if options.read_only && path.is_file() && !waiting(path) => {
            let uri = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI | OpenFlags::SQLITE_OPEN_NO_MUTEX;
            Connection::open_with_flags(unchanging(path), uri).map_err(|_| Trouble::Closed(path.into()))
        }
        Some(ErrorCode::CannotOpen) if path.is_file() && !options.read_only => Err(Trouble::ReadOnly),
        Some(ErrorCode::CannotOpen) => Err(Trouble::Closed(path.into())),
        Some(ErrorCode::NotADatabase) => Err(Trouble::NotALog(path.into(), "it is another kind of file")),
        _ => Err(failed.into()),
    }
}

/// Whether written entries still wait beside the file.
fn waiting(path: &Path) -> bool {
    let mut beside = path.as_os_str().to_owned();
    beside.push("-wal");
    std::fs::metadata(beside).is_ok_and(|m| m.len() > 0)
}

/// The path as an address that says nothing will change.
fn unchanging(path: &Path) -> String {
    use std::fmt::Write;
    let mut uri = String::from("file:");
    for byte in path.as_os_str().as_encoded_bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'/' | b'.' | b'-' | b'_' => uri.push(char::from(*byte)),
            // Writing to a string cannot fail.
            _ => drop(write!(uri, "%{byte:02X}")),
        }
    }
    uri.push_str("?immutable=1");
    uri
}

/// The form of our file, 0 for a new one; refused if it is somebody else's.
fn whose(db: &Connection, path: &Path) -> Result<i64> {
    let foreign = |error: rusqlite::Error| match error.sqlite_error_code() {
        Some(ErrorCode::NotADatabase | ErrorCode::DatabaseCorrupt) => {
            Trouble::NotALog(path.into(), "it is another kind of file, or badly damaged")
        }
        _ => error.into(),
    };
    // one look at all three: between two looks another program may have made the log
    let look = db.unchecked_transaction().map_err(foreign)?;
    let number = |name: &str| look.pragma_query_value(None, name, |r| r.get::<_, i64>(0)).map_err(foreign);
    let (application, form) = (number("application_id")?, number("user_version")?);
    let things: i64 = look.query_row("SELECT count(*) FROM sqlite_schema", [], |r| r.get(0)).map_err(foreign)?;
    match (application, things) {
        (APPLICATION, _) => Ok(form),
        (0, 0) if form == 0 => Ok(0),
        _ => Err(Trouble::NotALog(path.into(), "it is the database of another program")),
    }
}

/// Journal, sync, size, and the steps that are missing.
fn prepare(db: &mut Connection, options: &Options) -> Result<()> {
    let mode: String = db.query_row("PRAGMA journal_mode=WAL", [], |r| r.get(0))?;
    if mode != "wal" {
        return Err(Trouble::Damaged(format!("its journal is `{mode}` and cannot be changed")));
    }
    db.execute_batch("PRAGMA synchronous=FULL;")?;
    let page: i64 = db.pragma_query_value(None, "page_size", |r| r.get(0))?;
    let pages = (options.most_bytes / page.max(512).unsigned_abs()).clamp(1, 0xFFFF_FFFE);
    db.query_row(&format!("PRAGMA max_page_count={pages}"), [], |_| Ok(()))?;
    migrate(db, STEPS.len())
}

/// Takes the steps up to form `to`, each whole or not at all. Another program may be doing the same.
fn migrate(db: &mut Connection, to: usize) -> Result<()> {
    for (i, step) in STEPS.iter().enumerate().take(to) {
        let tx = db.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let have: i64 = tx.pragma_query_value(None, "user_version", |r| r.get(0))?;
        if have == i as i64 {
            tx.execute_batch(step)?;
            tx.pragma_update(None, "application_id", APPLICATION)?;
            tx.pragma_update(None, "user_version", i as i64 + 1)?;
        }
        tx.commit()?;
    }
    Ok(())
}

/// Tables, indices and triggers as `type, name, text`.
fn shape(db: &Connection) -> Result<Vec<(String, String, Option<String>)>> {
    let mut query = db.prepare("SELECT type, name, sql FROM sqlite_schema ORDER BY type, name")?;
    let rows = query.query_map([], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// Exactly our tables, and every page and row in order.
fn sound(db: &Connection) -> Result<()> {
    let mut fresh = Connection::open_in_memory()?;
    migrate(&mut fresh, STEPS.len())?;
    let form = |db: &Connection| db.pragma_query_value(None, "user_version", |r| r.get::<_, i64>(0));
    if form(db)? != form(&fresh)? || shape(db)? != shape(&fresh)? {
        return Err(Trouble::Damaged("its tables are not those this program makes".into()));
    }
    verdict(db, "quick_check")
}

fn verdict(db: &Connection, check: &str) -> Result<()> {
    let said: String = db.query_row(&format!("PRAGMA {check}(1)"), [], |r| r.get(0))?;
    if said == "ok" { Ok(()) } else { Err(Trouble::Damaged(said)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_holds_any_path() {
        assert_eq!(unchanging(Path::new("/a b/ü?#%.db")), "file:/a%20b/%C3%BC%3F%23%25.db?immutable=1");
    }
}
