//! The steps that are counted, and what the hands must know at each count: as the sheets have it, one thread or pick at a time.

use crate::chain::decide::cloth::Woven;
use crate::chain::keys as id;
use crate::draw::of_plan::hanging;
use crate::formulas::registry::Key;
use crate::outlook::Outcome;
use crate::units::{Length, Q, show};
use crate::weave::heddles::{Hold, Move, Place, Way};
use crate::weave::threading::{GROUP, Guide, thread_list};
use crate::weave::{Colour, ColourOrder};

/// A step counted at the bench.
pub struct Step {
    pub name: &'static str,
    pub title: &'static str,
    /// What one move is called.
    pub one: &'static str,
    pub says: &'static str,
    pub caution: &'static str,
    /// How many there are.
    pub total: fn(&Outcome) -> Option<u32>,
    pub drawings: &'static [&'static str],
}

fn whole<D>(outcome: &Outcome, key: &Key<D>) -> Option<u32> {
    outcome.get(key).map(|value| value.to_si().round() as u32)
}

/// The steps, in the order of the work.
pub static STEPS: &[Step] = &[
    Step {
        name: "warping",
        title: "Wind the warp",
        one: "end",
        says: "Count each end as it goes round.",
        caution: "Clamp the board or peg: a whole warp pulls hard. Keep the same easy tension from first to last.",
        total: |outcome| whole(outcome, &id::ENDS),
        drawings: &["warping"],
    },
    Step {
        name: "threading",
        title: "Thread the heddles",
        one: "thread",
        says: "One thread, one place.",
        caution: "Hooks are sharp at the end: draw towards the loom, never towards the other hand.",
        total: |outcome| whole(outcome, &id::ENDS),
        drawings: &["threading"],
    },
    Step {
        name: "weaving",
        title: "Weave",
        one: "pick",
        says: "Count a pick at each beat.",
        caution: "Hold the beam's handle before you lift a pawl; slacken the warp when you stop.",
        total: |outcome| whole(outcome, &id::PICKS),
        drawings: &[],
    },
];

/// What is told at one count.
#[derive(Default)]
pub struct Told {
    /// What to do now.
    pub now: Vec<String>,
    pub besides: Vec<String>,
    /// What must be done before going on.
    pub must: Option<String>,
}

/// What the hands must know when `at` of `total` are done.
pub fn told(step: &Step, outcome: &Outcome, at: u32, total: u32) -> Told {
    if at >= total {
        return Told { now: vec!["Done.".into()], ..Told::default() };
    }
    let Woven { colours, warp_order: warp, weft_order: weft, .. } = &outcome.brief.woven;
    let read = match step.name {
        "threading" => thread(outcome, (colours, warp), at, total),
        "weaving" => pick(outcome, (colours, weft), at, total),
        _ => Ok(end(colours, warp, at)),
    };
    read.unwrap_or_else(|why| Told { now: vec![why], ..Told::default() })
}

/// The colour, where there is more than one.
fn colour(colours: &[Colour], order: &ColourOrder, at: u32) -> Option<String> {
    let several = colours.len() > 1 && (0..order.repeat().max(1)).any(|n| order.at(n) != order.at(0));
    several.then(|| colours.get(order.at(at as usize)).map_or(String::new(), |colour| colour.name.clone()))
}

fn end(colours: &[Colour], order: &ColourOrder, at: u32) -> Told {
    let (group, inside) = (at as usize / GROUP + 1, at as usize % GROUP);
    let tie = inside == 0 && at > 0;
    Told {
        now: [colour(colours, order, at).unwrap_or_else(|| format!("end {}", at + 1))].to_vec(),
        besides: vec![format!("group {group}, {inside} in it")],
        must: tie.then(|| format!("{at} are wound: tie off these ten.")),
    }
}

/// Where a thread goes, as the threading sheet has it.
fn thread(outcome: &Outcome, (colours, order): (&[Colour], &ColourOrder), at: u32, ends: u32) -> Result<Told, String> {
    let hanging = hanging(outcome)?;
    let list = thread_list(&hanging, order, ends as usize, 0);
    let Some(thread) = list.number(at as usize + 1) else { return Ok(Told::default()) };
    let way = |(heddle, way): (usize, &Way)| {
        let words = match way {
            Way::Eye(number) => format!("eye {number}"),
            Way::Slot(number) => format!("slot {number}"),
        };
        format!("heddle {}: {words}", heddle + 1)
    };
    let now = match &thread.place {
        // of one heddle the number need not be said
        Place::Rigid(ways) if ways.len() == 1 => vec![way((0, &ways[0])).replace("heddle 1: ", "")],
        Place::Rigid(ways) => ways.iter().enumerate().map(way).collect(),
        Place::String { heddles, dent } => {
            let on = heddles.iter().map(|(shaft, heddle)| format!("shaft {shaft}, heddle {heddle}"));
            on.chain([format!("dent {dent}")]).collect()
        }
    };
    let colour = colour(colours, order, at).map(|name| format!("{name} thread"));
    let place = format!("group {}, thread {} of ten", thread.group, thread.in_group);
    // the guide is tied after the thread before this one
    let guide = (at > 0).then(|| list.number(at as usize)).flatten().and_then(|before| before.guide);
    let must = guide.map(|guide| match guide {
        Guide::Middle => "That was the middle: check that the heddle's middle is here too.".to_string(),
        Guide::Hundred | Guide::Fifty => format!("{at} are through: tie a marker, and look back along the row."),
        _ => "Ten are through: look for a crossed or missed thread, then tie them loosely.".to_string(),
    });
    Ok(Told { now, besides: colour.into_iter().chain([place]).collect(), must })
}

/// What is done for a pick, how far the cloth is, and when the warp is moved on.
fn pick(outcome: &Outcome, (colours, order): (&[Colour], &ColourOrder), at: u32, total: u32) -> Result<Told, String> {
    let hanging = hanging(outcome)?;
    let now = match hanging.moves(at as usize) {
        Move::Rigid(holds) => {
            let alone = holds.len() == 1;
            let hold = |(at, hold): (usize, &Hold)| {
                let words = match hold {
                    Hold::Up => "up",
                    Hold::Down => "down",
                    Hold::Rest => "at rest",
                };
                if alone { format!("heddle {words}") } else { format!("heddle {} {words}", at + 1) }
            };
            holds.iter().enumerate().map(hold).collect()
        }
        Move::String(up) => vec![format!("shafts {} up", up.to_string().replace(',', ", "))],
    };
    let style = outcome.brief.style;
    let text = |length: f64| show::of(Q::<Length>::si(length), id::ON_LOOM_LENGTH.unit, style);
    let mut besides: Vec<String> = colour(colours, order, at).map(|name| format!("{name} weft")).into_iter().collect();
    if let Some(length) = outcome.get(&id::ON_LOOM_LENGTH) {
        let done = length.to_si() * f64::from(at) / f64::from(total);
        besides.push(format!(
            "{} woven, {} still to weave, on the loom under tension; {} picks left",
            text(done),
            text(length.to_si() - done),
            total - at
        ));
    }
    let advance = outcome.get(&id::ADVANCE).zip(outcome.get(&id::PICKS_ON_LOOM));
    let every = advance.map(|(advance, picks)| (advance.to_si() * picks.to_si()).floor() as u32).filter(|n| *n > 0);
    let mut must = None;
    if let Some(every) = every {
        let since = at % every;
        if since == 0 && at > 0 {
            must = Some(format!("Move the warp on now: that is advance {}.", at / every));
        }
        besides.push(format!("next advance after {} picks", every - since));
    }
    Ok(Told { now, besides, must })
}
