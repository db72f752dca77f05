//! Amounts of a plan: the flow from raw fibre to what is worn, and the hours of each step.

use crate::chain::decide::inputs::How;
use crate::chain::keys as id;
use crate::draw::sheet::Sheet;
use crate::draw::sheets::flow::{self, Flow, Stage, Stuff};
use crate::draw::sheets::hours::{self, Hours, Step};
use crate::draw::sheets::symbols::Symbol;
use crate::formulas::registry::Key;
use crate::garment::Kind;
use crate::outlook::Outcome;
use crate::trade::fibres::Plant;
use crate::units::show;
use crate::units::{Dimension, Duration, Mass, Q};

/// The 10 % and 90 % points of an id.
fn range<D>(outcome: &Outcome, key: &Key<D>) -> Option<(Q<D>, Q<D>)> {
    outcome.spread(key.slot).map(|spread| (Q::si(spread.low), Q::si(spread.high)))
}

/// An id as a person reads it: "5.4 km".
fn said<D: Dimension>(outcome: &Outcome, key: &Key<D>) -> Option<String> {
    Some(show::natural(outcome.get(key)?.to_si(), D::KIND, outcome.brief.style))
}

/// Names of raw, clean and prepared fibre, the steps between them, and what leaves.
struct Names {
    forms: [(&'static str, Symbol); 3],
    steps: [(&'static str, &'static str); 2],
}

fn names(plant: Plant) -> Names {
    match plant {
        Plant::Cotton => Names {
            forms: [("seed cotton", Symbol::Boll), ("lint", Symbol::Lint), ("rolags", Symbol::Sliver)],
            steps: [("ginning", "seed and trash"), ("carding", "neps and dust")],
        },
        Plant::Wool => Names {
            forms: [("fleece in the grease", Symbol::Fleece), ("washed wool", Symbol::Lint), ("top", Symbol::Sliver)],
            steps: [("scouring", "grease and dirt"), ("combing", "short wool")],
        },
        Plant::Flax => Names {
            forms: [("retted straw", Symbol::Flax), ("scutched flax", Symbol::Lint), ("line", Symbol::Sliver)],
            steps: [("scutching", "shives"), ("hackling", "tow")],
        },
    }
}

fn article(kind: Kind) -> (&'static str, Symbol) {
    match kind {
        Kind::TeeShaped | Kind::TeeStraight => ("tee", Symbol::Tee),
        Kind::Apron => ("apron", Symbol::Apron),
        Kind::Tote => ("tote", Symbol::Tote),
        Kind::Towel => ("towel", Symbol::Towel),
        Kind::Scarf => ("scarf", Symbol::Scarf),
        Kind::Pieces => ("pieces", Symbol::Pieces),
    }
}

/// The flow of amounts.
pub(super) fn flow(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    Ok(vec![flow::wide(&amounts(outcome)?)])
}

/// The same for a narrow screen.
pub(super) fn narrow_flow(outcome: &Outcome) -> Result<Sheet, String> {
    Ok(flow::narrow(&amounts(outcome)?))
}

fn amounts(outcome: &Outcome) -> Result<Flow, String> {
    let names = names(outcome.brief.given.choices.plant);
    let keys = [&id::RAW_FIBRE, &id::CLEAN_FIBRE, &id::SPUN_FIBRE];
    let steps = [names.steps[0], names.steps[1], ("spinning", "waste of spinning")];
    let mut stages = Vec::new();
    for (key, ((name, symbol), (step, lost))) in keys.into_iter().zip(names.forms.into_iter().zip(steps)) {
        let note = if stages.is_empty() { crop(outcome) } else { String::new() };
        stages.extend(stage(outcome, key, (name, symbol, Stuff::Fibre), note, (step, lost)));
    }
    let length = said(outcome, &id::YARN_LENGTH).unwrap_or_default();
    let spun = ("yarn", Symbol::Bobbin, Stuff::Yarn);
    stages.extend(stage(outcome, &id::YARN_MASS, spun, length, ("warping and weaving", "spare yarn, repair skein")));
    stages.extend(on_the_loom(outcome));
    let (word, symbol) = article(outcome.brief.article.garment.kind);
    let many = outcome.brief.article.garment.how_many;
    let note = if many > 1 { format!("{many} to make") } else { String::new() };
    stages.extend(stage(outcome, &id::GARMENT_MASS, (word, symbol, Stuff::Cloth), note, ("", "")));
    if stages.is_empty() {
        return Err("This plan has no amounts to draw.".into());
    }
    let title = format!("From plant to {word}");
    Ok(Flow { title, stages, style: outcome.brief.style })
}

/// Warp and weft together as they lie in the loom.
fn on_the_loom(outcome: &Outcome) -> Option<Stage> {
    let mass = outcome.get(&id::WARP_MASS)? + outcome.get(&id::WEFT_MASS)?;
    let note = said(outcome, &id::ON_LOOM_LENGTH).map_or(String::new(), |length| format!("{length} woven"));
    Some(Stage {
        name: "warp and weft".into(),
        mass,
        range: None,
        stuff: Stuff::Cloth,
        symbol: Symbol::Cloth,
        note,
        step: "washing, cutting, sewing".into(),
        lost: "loom waste, wash, cuttings".into(),
    })
}

fn stage(
    outcome: &Outcome,
    key: &Key<Mass>,
    (name, symbol, stuff): (&str, Symbol, Stuff),
    note: String,
    (step, lost): (&str, &str),
) -> Option<Stage> {
    Some(Stage {
        name: name.to_string(),
        mass: outcome.get(key)?,
        range: range(outcome, key),
        stuff,
        symbol,
        note,
        step: step.to_string(),
        lost: lost.to_string(),
    })
}

/// What grows the raw fibre.
fn crop(outcome: &Outcome) -> String {
    let whole = |key: &Key<crate::units::Number>| outcome.get(key).map(|number| number.to_si().ceil());
    match outcome.brief.given.choices.plant {
        Plant::Cotton => whole(&id::PLANTS).map_or(String::new(), |plants| format!("{plants:.0} plants")),
        Plant::Wool => whole(&id::FLEECES).map_or(String::new(), |fleeces| format!("{fleeces:.0} fleeces")),
        Plant::Flax => said(outcome, &id::PLOT).map_or(String::new(), |plot| format!("{plot} of ground")),
    }
}

/// Steps of the work with the ids of their hours and of the pace they are counted at.
static STEPS: &[(&str, &Key<Duration>, u16)] = &[
    ("ginning", &id::GINNING, id::CLEANING_PACE.slot),
    ("scouring", &id::SCOURING, id::CLEANING_PACE.slot),
    ("scutching", &id::SCUTCHING, id::CLEANING_PACE.slot),
    ("carding", &id::CARDING, id::PREPARING_PACE.slot),
    ("combing", &id::COMBING, id::PREPARING_PACE.slot),
    ("hackling", &id::HACKLING, id::PREPARING_PACE.slot),
    ("a first sample", &id::SAMPLING, id::SAMPLING_ONCE.slot),
    ("spinning", &id::SPINNING, id::SPINNING_PACE.slot),
    ("plying", &id::PLYING, id::PLYING_PACE.slot),
    ("skeining", &id::SKEINING, id::SKEINING_PACE.slot),
    ("winding the warp", &id::WINDING, id::WINDING_PACE.slot),
    ("threading", &id::THREADING, id::THREADING_PACE.slot),
    ("weaving", &id::WEAVING, id::PICKING_PACE.slot),
    ("finishing", &id::FINISHING, id::FINISHING_ONCE.slot),
    ("sewing", &id::SEWING, id::SEWING_PACE.slot),
    ("printing", &id::PRINTING, id::PRINTING_PACE.slot),
];

/// The hours.
pub(super) fn hours(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    Ok(vec![hours::wide(&work(outcome)?)])
}

/// The same for a narrow screen.
pub(super) fn narrow_hours(outcome: &Outcome) -> Result<Sheet, String> {
    Ok(hours::narrow(&work(outcome)?))
}

fn work(outcome: &Outcome) -> Result<Hours, String> {
    let step = |(name, key, pace): &(&str, &Key<Duration>, u16)| step(outcome, name, key, *pace);
    let steps: Vec<Step> = STEPS.iter().filter_map(step).collect();
    let total = "This plan has no hours to draw.";
    let total = self::step(outcome, "all of it", &id::TOTAL_HOURS, id::TOTAL_HOURS.slot).ok_or(total)?;
    let title = format!("Hours of {}", outcome.brief.title);
    Ok(Hours { title, steps, total })
}

fn step(outcome: &Outcome, name: &str, key: &Key<Duration>, pace: u16) -> Option<Step> {
    let middle = outcome.get(key)?;
    let (low, high) = range(outcome, key).unwrap_or((middle, middle));
    let own = outcome.how(pace) == How::Measured;
    Some(Step { name: name.to_string(), middle, low, high, own, done: None })
}
