//! `check`: only what is wrong, and what would mend it.

use super::page::{Asked, WithLog, outcome_as};
use super::show::verdict;
use super::{Answer, Ending, Format, pretty};
use crate::checks::Severity;
use crate::diag::show::Look;
use crate::outlook::{add_pairs, json};
use std::path::Path;

/// The command. Ends with 1 when a check fails. With `pairs`, the smallest pair of changes for each that fails or warns.
pub fn check(path: &Path, pairs: bool, log: WithLog, format: Format, look: Look) -> Answer {
    let mut outcome = outcome_as(path, Asked { log, ..Asked::default() }, look)?;
    if pairs {
        add_pairs(&mut outcome);
    }
    let ending = if outcome.fails() { Ending::CheckFailed } else { Ending::Done };
    if format == Format::Json {
        let all = json::outcome(&outcome);
        let part = serde_json::json!({ "title": all["title"], "checks": all["checks"], "passed": all["passed"] });
        return Ok((pretty(&part), ending));
    }
    let mut out: String = outcome.verdicts.iter().map(|one| verdict(one, outcome.brief.style)).collect();
    let of = |severity| outcome.verdicts.iter().filter(|one| one.severity == severity).count();
    out += &format!(
        "{}: {} fail, {} warn, {} noted, {} pass.\n",
        outcome.brief.title,
        of(Severity::Fail),
        of(Severity::Warn),
        of(Severity::Note),
        outcome.passed.len()
    );
    Ok((out, ending))
}
