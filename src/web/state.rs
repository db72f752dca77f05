//! One plan at the workbench: its text as on disk, the log beside it, what came of both, and the way back. A change is written to disk before
//! it is shown, and never over a change made elsewhere.

use super::doors::Doors;
use super::events::CLOSED;
use super::journal;
use crate::chain::decide::{Brief, With, decide_with};
use crate::chain::keys::{self as id, IDS};
use crate::diag::{Diagnostic, any_error};
use crate::disk;
use crate::log::samples::samples;
use crate::log::{Log, Options, Trouble};
use crate::measure::samples::Samples;
use crate::nest::Kept;
use crate::outlook::ahead::{self, Ahead};
use crate::outlook::explore::{Found, explore};
use crate::outlook::next::{self, Worth};
use crate::outlook::outcome::SEED;
use crate::outlook::trials::FEW;
use crate::outlook::{Outcome, work_up};
use crate::plan::{self, Plan, edit};
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};
use std::time::{Duration, Instant};
use tokio::sync::watch;

/// Steps back that are kept.
const MOST_STEPS: usize = 200;

/// How long a sentence on what happened stays on the pages.
const NEWS: Duration = Duration::from_secs(20);

/// Designs looked through for the page: under a second.
const DESIGNS: usize = 100_000;

/// What a plan's text came to.
pub struct Worked {
    pub text: String,
    /// The plan as read, where it could be.
    pub plan: Option<Plan>,
    pub outcome: Result<Outcome, Vec<Diagnostic>>,
    /// The plan as decided without the log.
    planned: Option<Brief>,
    /// What the log says.
    samples: Samples,
    /// The day it was worked out, counted as the log counts days.
    today: i64,
    /// The outcome rests on the log.
    pub measured: bool,
    /// What lies ahead, with ways out.
    ahead: OnceLock<Option<Ahead>>,
    /// Pieces of pages, by name.
    composed: Mutex<BTreeMap<Box<str>, Arc<str>>>,
    designs: OnceLock<Option<Found>>,
    /// What each sample is worth to the raw fibre.
    worth: OnceLock<Vec<Worth>>,
}

impl Worked {
    fn new(text: String, plan: Option<Plan>, outcome: Result<Outcome, Vec<Diagnostic>>) -> Self {
        Worked {
            text,
            plan,
            outcome,
            planned: None,
            samples: Samples::default(),
            today: 0,
            measured: false,
            ahead: OnceLock::new(),
            composed: Mutex::default(),
            designs: OnceLock::new(),
            worth: OnceLock::new(),
        }
    }

    /// What the log says.
    pub fn samples(&self) -> &Samples {
        &self.samples
    }

    /// What lies ahead by the log, with ways out of what will not last; none where nothing was logged. Worked out once: pieces are laid anew
    /// for some ways out.
    pub fn ahead(&self) -> Option<&Ahead> {
        let ask = || {
            let planned = self.planned.as_ref().filter(|_| self.outcome.as_ref().is_ok_and(|o| o.ahead.is_some()))?;
            ahead::ahead(planned, &self.samples, ahead::Asked { today: self.today, rescues: true }).ok()
        };
        self.ahead.get_or_init(ask).as_ref()
    }

    /// What each sample is worth to the raw fibre, the most first; asked of the trials once.
    pub fn worth(&self) -> &[Worth] {
        let ask = || match &self.outcome {
            Ok(outcome) => next::next(&outcome.brief, id::RAW_FIBRE.slot, SEED),
            Err(_) => Vec::new(),
        };
        self.worth.get_or_init(ask)
    }

    /// A piece of a page that was composed before, by its name.
    pub fn known(&self, name: &str) -> Option<Arc<str>> {
        self.composed.lock().unwrap_or_else(PoisonError::into_inner).get(name).cloned()
    }

    /// A piece of a page that is the same for as long as the plan is: composed once.
    pub fn once(&self, name: &str, compose: impl FnOnce() -> String) -> Arc<str> {
        self.known(name).unwrap_or_else(|| {
            let made: Arc<str> = compose().into();
            self.composed.lock().unwrap_or_else(PoisonError::into_inner).insert(name.into(), Arc::clone(&made));
            made
        })
    }

    /// The other designs that work; searched for once.
    pub fn designs(&self) -> Option<&Found> {
        let search = || self.outcome.as_ref().ok().map(|outcome| explore(&outcome.brief, DESIGNS));
        self.designs.get_or_init(search).as_ref()
    }

    /// A word that differs where anything of the outcome does, also after a new start.
    pub fn stamp(&self) -> String {
        let mut hasher = DefaultHasher::new();
        self.text.hash(&mut hasher);
        if let Ok(outcome) = &self.outcome {
            outcome.values().for_each(|(slot, _, si)| (slot, si.to_bits()).hash(&mut hasher));
        }
        format!("{:x}", hasher.finish())
    }
}

/// The desk: where the plan stands, and the ways back and forth.
pub struct Desk {
    pub worked: Arc<Worked>,
    pub back: Vec<String>,
    pub forth: Vec<String>,
    /// Ids whose value the last change moved.
    pub moved: Vec<u16>,
    /// A sentence on what happened last, and when.
    said: Option<(String, Instant)>,
    /// Whether the log's lessons are used.
    pub with_log: bool,
    /// The newest row of the log that is worked in.
    newest: i64,
}

impl Desk {
    /// Says what happened.
    pub fn say(&mut self, words: impl Into<String>) {
        self.said = Some((words.into(), now()));
    }
    /// What happened last, for as long as it is news.
    pub fn said(&self) -> Option<&str> {
        self.said.as_ref().filter(|(_, at)| at.elapsed() < NEWS).map(|(words, _)| words.as_str())
    }
}

#[expect(clippy::disallowed_methods, reason = "news grows old by the clock")]
fn now() -> Instant {
    Instant::now()
}

/// What all requests share.
pub struct Shared {
    /// The plan's file, once there is one.
    path: OnceLock<PathBuf>,
    /// Where a new plan is written.
    folder: PathBuf,
    desk: Mutex<Desk>,
    kept: Kept,
    /// Rung at every change, so that each open page looks again.
    pub bell: watch::Sender<u64>,
    /// Who may come in.
    pub doors: Doors,
}

impl Shared {
    /// A workbench over a plan, or over a folder in which a plan will be begun.
    ///
    /// # Errors
    /// Why the plan cannot be read, for a person.
    pub fn open(plan: Option<&Path>, folder: &Path, doors: Doors) -> Result<Self, String> {
        let desk = Desk {
            worked: Arc::new(Worked::new(String::new(), None, Err(Vec::new()))),
            back: Vec::new(),
            forth: Vec::new(),
            moved: Vec::new(),
            said: None,
            with_log: true,
            newest: 0,
        };
        let shared = Shared {
            path: OnceLock::new(),
            folder: folder.to_path_buf(),
            desk: Mutex::new(desk),
            kept: Kept::default(),
            bell: watch::Sender::new(0),
            doors,
        };
        if let Some(plan) = plan {
            shared.begin(plan)?;
        }
        Ok(shared)
    }

    /// Takes up a plan that was just written, or is there; only the first is taken up.
    ///
    /// # Errors
    /// Why it cannot be read, for a person.
    pub fn begin(&self, plan: &Path) -> Result<(), String> {
        let text = disk::read_plan(plan)?;
        if self.path.set(plan.to_path_buf()).is_ok() {
            let mut desk = self.lock();
            desk.newest = self.newest();
            self.show(&mut desk, text);
            desk.moved.clear();
        }
        Ok(())
    }

    /// The plan's file, if there is one yet.
    pub fn path(&self) -> Option<&Path> {
        self.path.get().map(PathBuf::as_path)
    }

    /// Where a new plan is written.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// The log beside the plan, opened to be written.
    ///
    /// # Errors
    /// What keeps it from being opened.
    pub fn log(&self) -> Result<Log, Trouble> {
        Log::open(&self.log_path(), &Options::default())
    }

    /// The file of the log.
    pub fn log_path(&self) -> PathBuf {
        self.path().unwrap_or(&self.folder).with_extension("log")
    }

    /// The log where there is one, opened to be read.
    pub fn log_to_read(&self) -> Option<Log> {
        let path = self.log_path();
        if !path.exists() {
            return None;
        }
        Log::open(&path, &Options { read_only: true, ..Options::default() }).ok()
    }

    /// Tells every open page to look again.
    pub fn ring(&self) {
        self.bell.send_modify(|rung| *rung = rung.saturating_add(1).min(CLOSED - 1));
    }

    fn lock(&self) -> MutexGuard<'_, Desk> {
        self.desk.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn newest(&self) -> i64 {
        self.log_to_read().and_then(|log| log.newest().ok()).unwrap_or(0)
    }

    /// The desk, with what was changed elsewhere taken in.
    pub fn desk(&self) -> MutexGuard<'_, Desk> {
        let mut desk = self.lock();
        let Some(path) = self.path() else { return desk };
        let newest = self.newest();
        let logged = newest != desk.newest;
        desk.newest = newest;
        match disk::read_plan(path) {
            Ok(text) if text != desk.worked.text => {
                let before = desk.worked.text.clone();
                push(&mut desk.back, before);
                desk.forth.clear();
                self.show(&mut desk, text);
                desk.say("The plan was changed outside the workbench; this is how it stands now. Undo brings the old one back.");
            }
            _ if logged => {
                let text = desk.worked.text.clone();
                self.show(&mut desk, text);
            }
            _ => {}
        }
        desk
    }

    /// Sets keys of the plan, writes it, works it out. The error is for the field.
    pub fn change(&self, changes: &[(&str, Option<&str>)], said: String) -> Result<(), String> {
        let mut desk = self.desk();
        let path = self.path().ok_or("There is no plan yet.")?;
        let edited = edit::all(&desk.worked.text, changes).map_err(|fault| words(&fault))?;
        if edited.text == desk.worked.text {
            return Ok(());
        }
        disk::replace(path, edited.text.as_bytes())?;
        let before = desk.worked.text.clone();
        push(&mut desk.back, before);
        desk.forth.clear();
        self.show(&mut desk, edited.text);
        desk.say(said);
        Ok(())
    }

    /// One step back, or forth again.
    pub fn step(&self, forth: bool) -> Result<(), String> {
        let mut desk = self.desk();
        let path = self.path().ok_or("There is no plan yet.")?;
        let from = if forth { &mut desk.forth } else { &mut desk.back };
        let Some(text) = from.pop() else { return Err("There is nothing more that way.".into()) };
        disk::replace(path, text.as_bytes())?;
        let now = desk.worked.text.clone();
        push(if forth { &mut desk.back } else { &mut desk.forth }, now);
        self.show(&mut desk, text);
        desk.say(if forth { "Done again." } else { "Undone." });
        Ok(())
    }

    /// Uses the log's lessons, or leaves them aside.
    pub fn use_log(&self, with_log: bool) {
        let mut desk = self.desk();
        if desk.with_log != with_log {
            desk.with_log = with_log;
            let text = desk.worked.text.clone();
            self.show(&mut desk, text);
            desk.say(if with_log {
                "The plan now rests on what was measured."
            } else {
                "What was measured is left aside; the plan rests on what it assumed."
            });
        }
    }

    fn show(&self, desk: &mut Desk, text: String) {
        let now = Arc::new(self.worked(text, desk.with_log));
        desk.moved = moved(&desk.worked, &now);
        desk.worked = Arc::clone(&now);
        // The next page shows ranges: they are on their way while the answer goes out and the browser asks for it. On a thread of their
        // own: a worker of the pool that waited here for ranges in the making would be missing where they are made.
        std::thread::spawn(move || {
            if let Ok(outcome) = &now.outcome {
                outcome.run_trials();
            }
        });
        self.ring();
    }

    fn worked(&self, text: String, with_log: bool) -> Worked {
        let folder = self.path().and_then(Path::parent).unwrap_or(Path::new("."));
        let (plan, found) = plan::read(&text, &disk::files(&text, folder));
        let entries = self.log_to_read().and_then(|log| log.list().ok()).unwrap_or_default();
        let samples = samples(&entries);
        let today = journal::now().day().max(samples.last_day.unwrap_or(0));
        let (mut planned, mut measured) = (None, false);
        let outcome = match &plan {
            Some(plan) if !any_error(&found) => self.decided(plan).map(|brief| {
                let asked = ahead::Asked { today, rescues: false };
                let ahead = if entries.is_empty() { None } else { ahead::ahead(&brief, &samples, asked).ok() };
                measured = with_log && ahead.as_ref().is_some_and(|ahead| !ahead.learned.lessons.is_empty());
                planned = Some(brief.clone());
                let brief = ahead.as_ref().filter(|_| measured).map_or(brief, |ahead| ahead.brief.clone());
                let mut outcome = work_up(brief, FEW);
                outcome.ahead = ahead;
                outcome
            }),
            _ => Err(found),
        };
        Worked { planned, samples, today, measured, ..Worked::new(text, plan, outcome) }
    }

    fn decided(&self, plan: &Plan) -> Result<Brief, Vec<Diagnostic>> {
        decide_with(plan, &With { kept: Some(&self.kept), ..With::default() })
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

/// Ids whose value differs between two outcomes.
fn moved(before: &Worked, after: &Worked) -> Vec<u16> {
    let (Ok(before), Ok(after)) = (&before.outcome, &after.outcome) else { return Vec::new() };
    (0..IDS as u16).filter(|slot| before.numbers.si(*slot) != after.numbers.si(*slot)).collect()
}
