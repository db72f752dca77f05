//! `bench`: serves the workbench over one plan to this machine's browser, until it is told to stop.

use super::{Answer, Ending};
use crate::web;
use anstream::println;
use std::path::Path;

/// The command.
pub fn bench(plan: &Path, port: u16) -> Answer {
    web::serve(plan, port, |address| {
        println!("The workbench is at http://{address}/ for this machine alone. Ctrl-C ends it.")
    })?;
    Ok((String::new(), Ending::Done))
}
