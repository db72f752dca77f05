//! The outcome of a plan: every value with where it came from and its range, every check with its mends. All that is shown, drawn, printed
//! or served reads this and computes nothing.

use super::trials::{self, Spread, Trials};
use crate::chain::decide::Brief;
use crate::chain::decide::inputs::{How, Input};
use crate::chain::given::ONE_YARN;
use crate::chain::keys::{ALL, Costly, IDS, KeyInfo};
use crate::chain::machines::{self, Machines};
use crate::chain::mode::{By, Numbers, Trace};
use crate::chain::prints::{self, Prints};
use crate::chain::stages::run;
use crate::checks::mend::{Mend, Mender};
use crate::checks::{self, Check, Facts, Severity};
use crate::formulas::registry::Key;
use crate::garment::Fit;
use crate::print::Fault;
use crate::trade::fibres::Plant;
use crate::units::Q;
use rayon::prelude::*;
use std::sync::OnceLock;

/// How a check came out.
pub struct Verdict {
    pub code: &'static str,
    pub severity: Severity,
    /// What is wrong, with the numbers.
    pub message: String,
    /// The check itself; none for a question of fit, which the draft asks.
    pub check: Option<&'static Check>,
    /// Mends, the least effort first.
    pub mends: Vec<Mend>,
    /// For a question of fit: plan keys that change it.
    pub keys: &'static [&'static str],
}

/// A worked-up plan.
pub struct Outcome {
    pub brief: Brief,
    pub trace: Trace,
    pub numbers: Numbers,
    /// What failed or warned, the gravest first, then in the order of the chain.
    pub verdicts: Vec<Verdict>,
    /// Checks that apply and pass.
    pub passed: Vec<&'static Check>,
    /// How many trials ranges are taken from.
    trials: usize,
    /// The trials, run when a range is first asked for.
    run: OnceLock<Trials>,
    /// Ranges by slot, each made when first asked for.
    spreads: Vec<OnceLock<Option<Spread>>>,
    /// What lies ahead by the log, where there is one: put there by who read the log.
    pub ahead: Option<super::ahead::Ahead>,
    /// Both machines as things, made when first asked for.
    machines: OnceLock<Machines>,
    /// The print, likewise.
    prints: OnceLock<Option<Result<Prints, Fault>>>,
}

/// Seed of the ranges on a page; the same plan always shows the same figures.
pub const SEED: u32 = 1;

/// Works a decided plan up: one traced run, the checks and their mends. Ranges are taken from `trials` trials when one is asked for.
pub fn work_up(brief: Brief, trials: usize) -> Outcome {
    let mut trace = Trace::default();
    run(&brief.given, &mut trace);
    let numbers = trace.numbers();
    let facts = Facts { numbers: &numbers, style: brief.style, wool: brief.given.choices.plant == Plant::Wool };
    let mender = Mender::new(&brief.wishes);
    let (mut verdicts, mut passed) = (Vec::new(), Vec::new());
    for (at, check) in checks::ALL.iter().enumerate() {
        match (check.margin)(&facts) {
            Some(margin) if margin < 0.0 => {
                let mends = mender.as_ref().map_or(Vec::new(), |mender| mends(mender, at));
                let (code, severity, message) = (check.code, check.severity, (check.say)(&facts));
                verdicts.push(Verdict { code, severity, message, check: Some(check), mends, keys: &[] });
            }
            Some(_) => passed.push(*check),
            None => {}
        }
    }
    let laid = brief.article.on(brief.given.get(&crate::chain::keys::LAY_WIDTH).unwrap_or(Q::si(0.0)));
    verdicts.extend(laid.iter().flat_map(|laid| laid.garment.fits.iter()).filter_map(fit));
    verdicts.sort_by_key(|verdict| verdict.severity);
    Outcome {
        brief,
        trace,
        numbers,
        verdicts,
        passed,
        trials,
        run: OnceLock::new(),
        spreads: vec![OnceLock::new(); IDS],
        ahead: None,
        machines: OnceLock::new(),
        prints: OnceLock::new(),
    }
}

/// Single knobs; a pair only where no single one will do, and only for what fails.
fn mends(mender: &Mender, check: usize) -> Vec<Mend> {
    let singles = mender.singles(check);
    if singles.is_empty() && checks::ALL[check].severity == Severity::Fail && !checks::ALL[check].knobs.is_empty() {
        return mender.pair(check).into_iter().collect();
    }
    singles
}

/// For each check that fails or warns and one knob can mend, the pair of the least effort that mends it too, put last among its mends.
/// Takes up to a second a check: asked for, not always done.
pub fn add_pairs(outcome: &mut Outcome) {
    let Some(mender) = Mender::new(&outcome.brief.wishes) else { return };
    for verdict in &mut outcome.verdicts {
        let at = checks::ALL.iter().position(|check| check.code == verdict.code);
        let has_pair = verdict.mends.iter().any(|mend| mend.moves.len() > 1);
        if let (Some(at), false, false) = (at, has_pair, verdict.severity == Severity::Note) {
            verdict.mends.extend(mender.smallest_pair(at));
        }
    }
}

/// Questions of fit that the chain's own checks already ask.
const ASKED_ELSEWHERE: [&str; 3] = ["head-passes", "chest-passes", "sleeve-meets-armhole"];

/// A question of fit that is not met.
fn fit(fit: &Fit) -> Option<Verdict> {
    if fit.met() || ASKED_ELSEWHERE.contains(&fit.code) {
        return None;
    }
    let severity = if fit.must { Severity::Fail } else { Severity::Warn };
    Some(Verdict {
        code: fit.code,
        severity,
        message: fit.text.clone(),
        check: None,
        mends: Vec::new(),
        keys: fit.knobs,
    })
}

impl Outcome {
    /// The value of an id, where this plan has one.
    pub fn get<D>(&self, key: &Key<D>) -> Option<Q<D>> {
        self.numbers.get(key)
    }
    /// Spinner and loom as things to build.
    pub fn machines(&self) -> &Machines {
        self.machines
            .get_or_init(|| machines::work_up(&self.brief.plan, &self.numbers, self.brief.woven.draft.shafts() as u32))
    }
    /// The print as things; none where the plan has no artwork.
    pub fn prints(&self) -> Option<&Result<Prints, Fault>> {
        let made = || prints::work_up(&self.brief.plan, &self.brief.given, &self.numbers);
        self.prints.get_or_init(made).as_ref()
    }
    /// Ids that have a value, with it, in SI.
    pub fn values(&self) -> impl Iterator<Item = (u16, &'static KeyInfo, f64)> {
        ALL.iter().enumerate().filter_map(|(slot, key)| Some((slot as u16, key, self.numbers.si(slot as u16)?)))
    }
    /// How an id came to be.
    pub fn how(&self, slot: u16) -> How {
        self.brief.inputs.get(&slot).filter(|input| self.is_input(input)).map_or(How::Computed, |input| input.how)
    }
    /// Whether the run took the id as an input rather than made it.
    fn is_input(&self, input: &Input) -> bool {
        self.trace.node(input.slot).is_none_or(|node| matches!(node.by, By::Given))
    }
    /// 10 %, middle and 90 % points of an id, in SI; none where nothing that feeds it is doubted.
    pub fn spread(&self, slot: u16) -> Option<Spread> {
        let trials = self.run_trials()?;
        let moves = |spread: &Spread| spread.low < spread.high;
        *self.spreads[slot as usize].get_or_init(|| trials.spread(slot).filter(moves))
    }
    /// Makes the ranges of many ids at once, on all cores, for a page that shows them all.
    pub fn make_spreads(&self, slots: &[u16]) {
        // the trials first: a worker that waited for them in here would be missing where they are run
        if self.run_trials().is_some() {
            slots.par_iter().for_each(|slot| {
                self.spread(*slot);
            });
        }
    }
    /// Ids that a trial may move: those with a value that are no input, and the inputs in doubt.
    fn may_move(&self) -> Vec<u16> {
        let shaken: Vec<u16> = trials::doubts(&self.brief).iter().map(|doubt| doubt.slot).collect();
        let is_shaken =
            |slot| shaken.contains(&slot) || ONE_YARN.iter().any(|(from, to)| *to == slot && shaken.contains(from));
        let is_given = |slot| self.trace.node(slot).is_some_and(|node| matches!(node.by, By::Given));
        self.values().map(|(slot, ..)| slot).filter(|slot| !is_given(*slot) || is_shaken(*slot)).collect()
    }
    /// The trials that ranges are taken from; none where none are asked for.
    pub fn run_trials(&self) -> Option<&Trials> {
        let run = || trials::trials(&self.brief, SEED, self.trials, &self.may_move());
        (self.trials > 0).then(|| self.run.get_or_init(run))
    }
    /// The point on the costly side that nine makers in ten stay within, in SI.
    pub fn safe(&self, slot: u16) -> Option<f64> {
        let spread = self.spread(slot)?;
        match ALL[slot as usize].costly {
            Costly::More => Some(spread.high),
            Costly::Less => Some(spread.low),
            Costly::Neither => None,
        }
    }
    /// Whether a check failed that must not.
    pub fn fails(&self) -> bool {
        self.verdicts.iter().any(|verdict| verdict.severity == Severity::Fail)
    }
}
