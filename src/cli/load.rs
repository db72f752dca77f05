//! Reading a plan from disk with the files it names, with every diagnostic ready to be shown.

use crate::diag::{self, Diagnostic, any_error, show::Look};
use crate::disk;
use crate::plan::{self, Plan};
use std::path::Path;

/// A plan as it stands on disk.
pub struct Loaded {
    pub text: String,
    pub plan: Plan,
    /// What was noticed and is no error.
    pub noticed: Vec<Diagnostic>,
}

/// Reads a plan. The error is ready to be shown.
pub fn load(path: &Path, look: Look) -> Result<Loaded, String> {
    let text = disk::read_plan(path)?;
    let files = disk::files(&text, path.parent().unwrap_or(Path::new(".")));
    let (plan, found) = plan::read(&text, &files);
    let name = path.file_name().and_then(|name| name.to_str()).unwrap_or("plan");
    match plan {
        Some(plan) if !any_error(&found) => Ok(Loaded { text, plan, noticed: found }),
        _ => Err(diag::show::render(&found, &text, name, look)),
    }
}
