//! `book`: the workshop book as a file.

use super::page::{Asked, WithLog, outcome_as};
use super::{Answer, Ending};
use crate::book;
use crate::diag::show::Look;
use crate::outlook::trials::FEW;
use std::path::Path;

/// The command.
pub fn book(plan: &Path, out: &Path, with_log: bool, look: Look) -> Answer {
    let log = if with_log { WithLog::Yes } else { WithLog::No };
    let outcome = outcome_as(plan, Asked { trials: FEW, log, ..Asked::default() }, look)?;
    crate::disk::replace(out, book::html(&outcome).as_bytes())?;
    Ok((format!("{} is written. Open it in a browser to read or to print it.\n", out.display()), Ending::Done))
}
