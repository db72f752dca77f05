//! What can go wrong with a log, in words for a person whose hands are full, each with the way out.

use rusqlite::ErrorCode;
use std::fmt;
use std::path::PathBuf;

/// A log that could not do what was asked.
#[derive(Debug)]
pub enum Trouble {
    /// The file is something else.
    NotALog(PathBuf, &'static str),
    /// Written by a newer program.
    Newer { have: i64, known: i64 },
    /// Written by an older program, where it cannot be brought up to date.
    Older,
    /// Damaged, or its tables were changed by something else.
    Damaged(String),
    /// No room.
    Full,
    /// Cannot be written.
    ReadOnly,
    /// Another program kept it locked.
    Busy,
    /// Cannot be opened or made.
    Closed(PathBuf),
    /// The entry is not sound; nothing was written.
    Entry(Vec<Fault>),
    /// There is no such entry.
    NoSuch(i64),
    /// Nothing to undo.
    NothingToUndo,
    /// Progress was moved by another screen since it was last seen.
    Moved { at: u32, revision: i64 },
    /// Anything else the database says.
    Other(rusqlite::Error),
}

/// One thing wrong with one entry.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Line of the CSV, from 1, when it came from one.
    pub line: Option<usize>,
    /// Which field, if any.
    pub field: Option<String>,
    pub message: String,
    /// What was probably meant.
    pub near: Option<String>,
}

impl Fault {
    pub(super) fn new(field: Option<&str>, message: impl Into<String>) -> Self {
        Fault { line: None, field: field.map(str::to_string), message: message.into(), near: None }
    }
    pub(super) fn near(mut self, near: Option<impl Into<String>>) -> Self {
        self.near = near.map(Into::into);
        self
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(line) = self.line {
            write!(f, "line {line}: ")?;
        }
        if let Some(field) = &self.field {
            write!(f, "{field}: ")?;
        }
        f.write_str(&self.message)?;
        match &self.near {
            Some(near) => write!(f, " (did you mean `{near}`?)"),
            None => Ok(()),
        }
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Trouble::NotALog(path, why) => {
                write!(
                    f,
                    "`{}` is not a bench log: {why}. It was left as it is; give the log another name.",
                    path.display()
                )
            }
            Trouble::Newer { have, known } => write!(
                f,
                "This log was written by a newer program (form {have}; this one knows {known}). Use the newer program; nothing was changed."
            ),
            Trouble::Older => f.write_str(
                "This log has an older form and can only be read here. Open it once in a folder that may be written.",
            ),
            Trouble::Damaged(what) => write!(
                f,
                "The log is damaged ({what}). Nothing was written. Keep the file and go on from your last CSV export or copy."
            ),
            Trouble::Full => f.write_str(
                "There is no room left for the log, so this entry was NOT saved. Free some space, then enter it again.",
            ),
            Trouble::ReadOnly => f.write_str(
                "The log can only be read here, so this was NOT saved. Check that the folder is not write-protected.",
            ),
            Trouble::Busy => {
                f.write_str("Another program is busy with the log. This was NOT saved: try again in a moment.")
            }
            Trouble::Closed(path) => {
                write!(
                    f,
                    "The log `{}` cannot be opened. Check that its folder exists and may be read.",
                    path.display()
                )
            }
            Trouble::Entry(faults) => {
                for (i, fault) in faults.iter().enumerate() {
                    write!(f, "{}{fault}", if i > 0 { "\n" } else { "" })?;
                }
                Ok(())
            }
            Trouble::NoSuch(id) => write!(f, "There is no entry {id} in the log."),
            Trouble::NothingToUndo => f.write_str("There is nothing to undo."),
            Trouble::Moved { at, .. } => {
                write!(f, "Another screen has moved this on: it now stands at {at}. Look again before you go on.")
            }
            Trouble::Other(error) => write!(f, "The log could not do that: {error}."),
        }
    }
}

impl std::error::Error for Trouble {}

impl From<rusqlite::Error> for Trouble {
    fn from(error: rusqlite::Error) -> Self {
        match error.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => Trouble::Full,
            Some(ErrorCode::ReadOnly | ErrorCode::PermissionDenied) => Trouble::ReadOnly,
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Trouble::Busy,
            Some(ErrorCode::DatabaseCorrupt) => Trouble::Damaged("its pages do not fit together".into()),
            Some(ErrorCode::NotADatabase) => Trouble::Damaged("it is not a database".into()),
            _ => Trouble::Other(error),
        }
    }
}

/// What a log call returns.
pub type Result<T> = std::result::Result<T, Trouble>;
