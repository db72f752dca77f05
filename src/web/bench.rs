//! At the bench: one thing at a time, large, for busy hands. Where a step stands is kept in the log at every move, so that a phone that
//! sleeps, a reload, or a program that is killed loses nothing.

use super::layout::page;
use super::screens::lost;
use super::state::Shared;
use crate::chain::keys as id;
use crate::log::{Log, Moment, Options, Trouble};
use crate::outlook::Outcome;
use crate::units::show;
use crate::weave::ColourOrder;
use crate::weave::heddles::{Hanging, Heddles, Place, Way};
use crate::weave::threading::thread_list;
use axum::Form;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;
use std::sync::Arc;

type Desks = State<Arc<Shared>>;

/// A step counted at the bench.
struct Step {
    name: &'static str,
    title: &'static str,
    /// What one move is called.
    one: &'static str,
    says: &'static str,
    /// How many there are.
    total: fn(&Outcome) -> Option<u32>,
}

fn whole<D>(outcome: &Outcome, key: &crate::formulas::registry::Key<D>) -> Option<u32> {
    outcome.get(key).map(|value| value.to_si() as u32)
}

/// The steps, in the order of the work.
static STEPS: &[Step] = &[
    Step {
        name: "warping",
        title: "Wind the warp",
        one: "end",
        says: "Count each end as it goes round. Tie off every ten.",
        total: |outcome| whole(outcome, &id::ENDS),
    },
    Step {
        name: "threading",
        title: "Thread the heddles",
        one: "thread",
        says: "One thread, one eye or slot. Space or Enter moves on.",
        total: |outcome| whole(outcome, &id::ENDS),
    },
    Step {
        name: "weaving",
        title: "Weave",
        one: "pick",
        says: "Count a pick at each beat. The length left is on the loom, under tension.",
        total: |outcome| whole(outcome, &id::PICKS),
    },
];

fn open(shared: &Shared) -> Result<Log, Trouble> {
    Log::open(&shared.path().with_extension("log"), &Options::default())
}

#[expect(clippy::disallowed_methods, reason = "a move is kept with its time")]
fn now() -> Moment {
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    Moment::from_millis(since.map_or(0, |since| i64::try_from(since.as_millis()).unwrap_or(i64::MAX)))
}

/// All steps, and the beat of the draw.
pub async fn index(State(shared): Desks) -> Markup {
    let desk = shared.desk();
    let worked = Arc::clone(&desk.worked);
    let body = html! {
        p.lead { "Prop the phone by the loom. Every move is kept at once." }
        ul.steps { @for step in STEPS { li { a href={ "/bench/" (step.name) } { (step.title) } } } }
        @if let Ok(outcome) = &worked.outcome { (beat(outcome)) }
    };
    page("bench", "Bench", &desk, &body)
}

/// The beat: a draw each time it comes round, at the set speed, so that the twist comes out.
fn beat(outcome: &Outcome) -> Markup {
    let Some(beat) = outcome.get(&id::BEAT) else { return html! {} };
    let text = |slot: u16| {
        outcome.numbers.si(slot).map(|si| show::quantity(si, &id::ALL[slot as usize].unit, outcome.brief.style))
    };
    html! {
        section {
            h2 { "Spin to a beat" }
            p { "Spindle at " b { (text(id::SPINDLE_SPEED.slot).unwrap_or_default()) } ": draw and wind on " b { (text(id::STROKE.slot).unwrap_or_default()) }
                " every " b { (text(id::BEAT.slot).unwrap_or_default()) } "." }
            p.beat data-seconds=(format!("{:.2}", beat.to_si())) { "Draw" }
            button type="button" data-beat="" { "Start the beat" }
            p.caution { "Foot off before a finger nears the flyer. Keep hair, sleeves and scarves away." }
        }
    }
}

/// One step.
pub async fn step(State(shared): Desks, Path(name): Path<String>) -> Response {
    let Some(step) = STEPS.iter().find(|step| step.name == name) else { return lost() };
    let worked = Arc::clone(&shared.desk().worked);
    let Ok(outcome) = &worked.outcome else { return Redirect::to("/").into_response() };
    let stands = match open(&shared).and_then(|log| log.progress(step.name)) {
        Ok(stands) => stands,
        Err(trouble) => return (StatusCode::SERVICE_UNAVAILABLE, trouble.to_string()).into_response(),
    };
    let (at, revision) = stands.map_or((0, 0), |stands| (stands.at, stands.revision));
    let total = (step.total)(outcome).unwrap_or(0);
    let desk = shared.desk();
    let body = counter(step, outcome, at.min(total), total, revision);
    page("bench", step.title, &desk, &body).into_response()
}

fn counter(step: &Step, outcome: &Outcome, at: u32, total: u32, revision: i64) -> Markup {
    html! {
        div.counter data-counter="" {
            p.count aria-live="polite" { (at) span.of { " of " (total) } }
            @for line in place(step, outcome, at, total) { p.where { (line) } }
            div.moves {
                (to(step, at.saturating_sub(1), revision, "Back one", at == 0, "back"))
                (to(step, (at + 1).min(total), revision, &format!("Next {}", step.one), at >= total, "next"))
            }
            progress max=(total) value=(at) {}
            p { (step.says) }
            p.caution { "Hold the beam's handle before you lift a pawl; slacken the warp when you stop." }
        }
    }
}

/// What the hands must know at this count.
fn place(step: &Step, outcome: &Outcome, at: u32, total: u32) -> Vec<String> {
    if at >= total {
        return vec!["Done.".into()];
    }
    match step.name {
        "threading" => thread(outcome, at, total),
        "weaving" => {
            let left = outcome
                .get(&id::ON_LOOM_LENGTH)
                .map_or(0.0, |length| length.to_si() * f64::from(total - at) / f64::from(total));
            let text = show::of(crate::units::Q::si(left), id::ON_LOOM_LENGTH.unit, outcome.brief.style);
            vec![format!("{text} still to weave, on the loom")]
        }
        _ => vec![format!("group {}, {} in it", at / 10 + 1, at % 10)],
    }
}

/// Where a thread goes, as the threading sheet has it.
fn thread(outcome: &Outcome, at: u32, ends: u32) -> Vec<String> {
    let draft = &outcome.brief.woven.draft;
    // without rigid heddles the plan has shafts
    let heddles = whole(outcome, &id::HEDDLES).map_or(Heddles::string(draft.shafts()), |n| Heddles::rigid(n as usize));
    let hanging = match Hanging::of(draft, heddles) {
        Ok(hanging) => hanging,
        Err(why) => return vec![why.to_string()],
    };
    let order = ColourOrder::plain(0);
    let Some(thread) = thread_list(&hanging, &order, ends as usize, 0).number(at as usize + 1) else {
        return vec!["Done.".into()];
    };
    let way = |(heddle, way): (usize, &Way)| {
        let words = match way {
            Way::Eye(number) => format!("eye {number}"),
            Way::Slot(number) => format!("slot {number}"),
        };
        format!("heddle {}: {words}", heddle + 1)
    };
    let place = match &thread.place {
        Place::Rigid(ways) => ways.iter().enumerate().map(way).collect::<Vec<_>>(),
        Place::String { heddles, dent } => {
            let on = heddles.iter().map(|(shaft, heddle)| format!("shaft {shaft}, heddle {heddle}"));
            on.chain([format!("dent {dent}")]).collect()
        }
    };
    [place, vec![format!("group {}, thread {} of ten", thread.group, thread.in_group)]].concat()
}

fn to(step: &Step, at: u32, revision: i64, words: &str, shut: bool, kind: &str) -> Markup {
    html! {
        form method="post" action={ "/bench/" (step.name) } {
            input type="hidden" name="at" value=(at);
            input type="hidden" name="seen" value=(revision);
            button type="submit" class=(kind) data-move=(kind) disabled[shut] { (words) }
        }
    }
}

/// A move.
#[derive(Deserialize)]
pub struct Move {
    at: u32,
    seen: i64,
}

/// Keeps a move; another device that was quicker wins, and this one shows where the step stands.
pub async fn moved(State(shared): Desks, Path(name): Path<String>, Form(to): Form<Move>) -> Response {
    let Some(step) = STEPS.iter().find(|step| step.name == name) else { return lost() };
    let kept = open(&shared).and_then(|mut log| log.set_progress(step.name, to.at, "", to.seen, now()));
    match kept {
        Ok(_) | Err(Trouble::Moved { .. }) => Redirect::to(&format!("/bench/{}", step.name)).into_response(),
        Err(trouble) => (StatusCode::SERVICE_UNAVAILABLE, trouble.to_string()).into_response(),
    }
}
