//! One plan at the workbench: its text as on disk, what came of it, and the way back. A change is written to disk before it is shown, and
//! never over a change made elsewhere.

use crate::chain::decide::decide;
use crate::chain::keys::IDS;
use crate::diag::{Diagnostic, any_error};
use crate::disk;
use crate::outlook::trials::FEW;
use crate::outlook::{Outcome, work_up};
use crate::plan::{self, Plan, edit};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard};

/// Steps back that are kept.
const MOST_STEPS: usize = 200;

/// What a plan's text came to.
pub struct Worked {
    pub text: String,
    /// The plan as read, where it could be.
    pub plan: Option<Plan>,
    pub outcome: Result<Outcome, Vec<Diagnostic>>,
}

/// The desk: where the plan stands, and the ways back and forth.
pub struct Desk {
    pub worked: Arc<Worked>,
    pub back: Vec<String>,
    pub forth: Vec<String>,
    /// Ids whose value the last change moved.
    pub moved: Vec<u16>,
    /// A sentence on what happened last.
    pub said: Option<String>,
}

/// What all requests share.
pub struct Shared {
    path: PathBuf,
    desk: Mutex<Desk>,
}

impl Shared {
    /// Opens a plan.
    pub fn open(path: &Path) -> Result<Self, String> {
        let worked = Arc::new(worked(path, disk::read_plan(path)?));
        let desk = Desk { worked, back: Vec::new(), forth: Vec::new(), moved: Vec::new(), said: None };
        Ok(Shared { path: path.to_path_buf(), desk: Mutex::new(desk) })
    }

    /// The plan's file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The desk, with what was changed elsewhere taken in.
    pub fn desk(&self) -> MutexGuard<'_, Desk> {
        let mut desk = self.desk.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        if let Ok(text) = disk::read_plan(&self.path)
            && text != desk.worked.text
        {
            let before = desk.worked.text.clone();
            push(&mut desk.back, before);
            desk.forth.clear();
            self.show(&mut desk, text);
            desk.said = Some(
                "The plan was changed outside the workbench; this is how it stands now. Undo brings the old one back."
                    .into(),
            );
        }
        desk
    }

    /// Sets keys of the plan, writes it, works it out. The error is for the field.
    pub fn change(&self, changes: &[(&str, Option<&str>)], said: String) -> Result<(), String> {
        let mut desk = self.desk();
        let edited = edit::all(&desk.worked.text, changes).map_err(|fault| words(&fault))?;
        if edited.text == desk.worked.text {
            return Ok(());
        }
        disk::replace(&self.path, edited.text.as_bytes())?;
        let before = desk.worked.text.clone();
        push(&mut desk.back, before);
        desk.forth.clear();
        self.show(&mut desk, edited.text);
        desk.said = Some(said);
        Ok(())
    }

    /// One step back, or forth again.
    pub fn step(&self, forth: bool) -> Result<(), String> {
        let mut desk = self.desk();
        let from = if forth { &mut desk.forth } else { &mut desk.back };
        let Some(text) = from.pop() else { return Err("There is nothing more that way.".into()) };
        disk::replace(&self.path, text.as_bytes())?;
        let now = desk.worked.text.clone();
        push(if forth { &mut desk.back } else { &mut desk.forth }, now);
        self.show(&mut desk, text);
        desk.said = Some(if forth { "Done again.".into() } else { "Undone.".into() });
        Ok(())
    }

    fn show(&self, desk: &mut Desk, text: String) {
        let now = Arc::new(worked(&self.path, text));
        desk.moved = moved(&desk.worked, &now);
        desk.worked = now;
    }
}

/// A diagnostic as one sentence beside a field.
pub fn words(fault: &Diagnostic) -> String {
    let near = fault.near.as_ref().map_or(String::new(), |near| format!(" Did you mean `{near}`?"));
    format!("{}.{near}", fault.message.trim_end_matches('.'))
}

fn push(way: &mut Vec<String>, text: String) {
    if way.len() == MOST_STEPS {
        way.remove(0);
    }
    way.push(text);
}

fn worked(path: &Path, text: String) -> Worked {
    let files = disk::files(&text, path.parent().unwrap_or(Path::new(".")));
    let (plan, found) = plan::read(&text, &files);
    let outcome = match &plan {
        Some(plan) if !any_error(&found) => decide(plan).map(|brief| work_up(brief, FEW)),
        _ => Err(found),
    };
    Worked { text, plan, outcome }
}

/// Ids whose value differs between two outcomes.
fn moved(before: &Worked, after: &Worked) -> Vec<u16> {
    let (Ok(before), Ok(after)) = (&before.outcome, &after.outcome) else { return Vec::new() };
    (0..IDS as u16).filter(|slot| before.numbers.si(*slot) != after.numbers.si(*slot)).collect()
}
