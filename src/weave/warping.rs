//! The winding of a warp: how long, with which marks on the guide string; in what order which colour is wound, and into which
//! slots when it is wound straight on to the loom; the groups it is tied in. Knows no yarn and no force.

use super::heddles::{Hanging, Heddles};
use super::{ColourOrder, Fault};
use crate::units::{Length, Q};

/// Ends tied in one knot to the apron rod (common practice, no source).
pub const KNOT: usize = 20;
/// Most ends lifted off a board in one chain (common practice, no source).
pub const CHAIN: usize = 120;

/// How it is wound.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Winding {
    /// Loops pulled through the slots of the rigid heddle and round a peg as far off as the warp is long.
    Peg,
    /// Round the pegs of a board, with a cross, then spread in the loom.
    Board,
}

/// Something woven between two marks.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    pub name: String,
    /// Length on the loom, under tension.
    pub length: Q<Length>,
}

/// What is to be wound.
#[derive(Clone, Debug)]
pub struct Ask<'a> {
    pub hanging: &'a Hanging,
    pub colours: &'a ColourOrder,
    /// Working ends, and how many at each edge are doubled.
    pub ends: usize,
    pub doubled: usize,
    pub winding: Winding,
    /// From peg to peg.
    pub length: Q<Length>,
    /// What cannot be woven at the front (knots) and at the back.
    pub front: Q<Length>,
    pub back: Q<Length>,
    pub panels: Vec<Panel>,
    /// Left unwoven between two panels.
    pub between: Q<Length>,
}

/// A mark on the guide string.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// From the knot at the front.
    pub at: Q<Length>,
    pub words: String,
}

/// Threads wound one after another without changing the yarn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pass {
    /// Ends from, to, counted from 1.
    pub from: usize,
    pub to: usize,
    pub colour: usize,
    /// Loops of two ends, and ends that are alone (tied at the peg).
    pub loops: usize,
    pub singles: usize,
    /// Slots of the heddle nearest the weaver that they go through, from, to; for a warp wound on the loom.
    pub slots: Option<(usize, usize)>,
}

/// How a warp is wound.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    pub winding: Winding,
    /// Length of the guide string.
    pub guide: Q<Length>,
    pub marks: Vec<Mark>,
    /// What is left over beyond all panels.
    pub spare: Q<Length>,
    pub passes: Vec<Pass>,
    /// Ends in all, those doubled counted twice.
    pub ends: usize,
    /// Ends of each colour.
    pub of_colour: Vec<usize>,
    /// Knots to the apron rod: ends in each.
    pub knots: Vec<usize>,
    /// Chains lifted from the board: ends in each; one for a warp wound on the loom.
    pub chains: Vec<usize>,
    /// Loops through each slot when wound on the loom.
    pub loops_per_slot: Option<usize>,
    /// Pairs of neighbours of two colours, which cannot be one loop.
    pub broken_pairs: usize,
}

/// Plans the winding. Refuses a warp that is shorter than what is woven on it, and loops where the hardware takes none.
pub fn plan(ask: &Ask) -> Result<Plan, Fault> {
    let (marks, spare) = marks(ask)?;
    let loops_per_slot = loops(ask)?;
    let passes = passes(ask);
    let pairs = |pass: &Pass| pass.singles;
    let ends = ask.ends + (2 * ask.doubled).min(ask.ends);
    let colours = ask.colours.runs().iter().map(|r| r.colour).max().unwrap_or(0) + 1;
    let mut of_colour = ask.colours.counts(ask.ends, colours);
    for end in (0..ask.ends).filter(|e| *e < ask.doubled || e + ask.doubled >= ask.ends) {
        of_colour[ask.colours.at(end)] += 1;
    }
    Ok(Plan {
        winding: ask.winding,
        guide: ask.length,
        marks,
        spare,
        broken_pairs: passes.iter().map(pairs).sum::<usize>() / 2,
        passes,
        ends,
        of_colour,
        knots: shared(ask.ends, KNOT),
        chains: if ask.winding == Winding::Board { shared(ask.ends, CHAIN) } else { vec![ask.ends] },
        loops_per_slot,
    })
}

fn marks(ask: &Ask) -> Result<(Vec<Mark>, Q<Length>), Fault> {
    let mut at = ask.front;
    let mut marks = vec![Mark { at: Q::si(0.0), words: "knot at the front rod".into() }];
    for (n, panel) in ask.panels.iter().enumerate() {
        if n > 0 {
            at = at + ask.between;
        }
        marks.push(Mark { at, words: format!("begin {}", panel.name) });
        at = at + panel.length;
        marks.push(Mark { at, words: format!("end {}", panel.name) });
    }
    let spare = ask.length - ask.back - at;
    // A hair's breadth less is rounding.
    if spare.to_si() < -1e-6 {
        let short = format!("{:.1} cm", -spare.to_si() * 100.0);
        return Err(Fault::new(format!("the warp is {short} too short for what is woven on it"), "wind a longer warp"));
    }
    marks.push(Mark { at: ask.length - ask.back, words: "last that can be woven".into() });
    marks.push(Mark { at: ask.length, words: "back rod".into() });
    Ok((marks, spare))
}

fn loops(ask: &Ask) -> Result<Option<usize>, Fault> {
    match (ask.winding, ask.hanging.heddles()) {
        (Winding::Board, _) => Ok(None),
        (Winding::Peg, Heddles::String { .. }) => {
            Err(Fault::new("string heddles have no slots to pull loops through", "wind the warp on a board"))
        }
        (Winding::Peg, Heddles::Rigid { ends_per_pitch, .. }) if !ends_per_pitch.is_multiple_of(2) => {
            let message = format!("{ends_per_pitch} ends to a pitch do not make whole loops");
            Err(Fault::new(message, "wind the warp on a board"))
        }
        (Winding::Peg, Heddles::Rigid { ends_per_pitch, .. }) => Ok(Some(ends_per_pitch / 2)),
    }
}

/// Runs of one colour. On the loom ends are wound in pairs, so a run that begins or ends inside a pair leaves an end alone.
fn passes(ask: &Ask) -> Vec<Pass> {
    let per_pitch = match (ask.winding, ask.hanging.heddles()) {
        (Winding::Peg, Heddles::Rigid { ends_per_pitch, .. }) => Some(ends_per_pitch),
        _ => None,
    };
    let mut first = 0;
    let runs = ask.colours.written_out(ask.ends);
    runs.iter()
        .map(|run| {
            let (from, to) = (first, first + run.threads);
            first = to;
            let (singles, loops) = match per_pitch {
                // Pairs begin at even places.
                Some(_) => (from % 2 + to % 2, (to / 2).saturating_sub(from.div_ceil(2))),
                None => (run.threads % 2, run.threads / 2),
            };
            let slots = per_pitch.map(|n| (from / n + 1, (to - 1) / n + 1));
            // A run inside one pair is one end alone, not two.
            let singles = singles.min(run.threads);
            Pass { from: from + 1, to, colour: run.colour, loops, singles, slots }
        })
        .collect()
}

/// `all` in parts of `each`, the last two about equal so that none is a rest of a few.
fn shared(all: usize, each: usize) -> Vec<usize> {
    let mut parts = vec![each; all / each];
    match (all % each, parts.pop()) {
        (0, Some(last)) => parts.push(last),
        (rest, Some(last)) if rest * 2 < each => parts.extend([(last + rest).div_ceil(2), (last + rest) / 2]),
        (rest, Some(last)) => parts.extend([last, rest]),
        (rest, None) if rest > 0 => parts.push(rest),
        _ => {}
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{CM, M};
    use crate::weave::Weave;

    fn ask<'a>(hanging: &'a Hanging, colours: &'a ColourOrder, ends: usize, winding: Winding) -> Ask<'a> {
        let panel = |name: &str, cm: f64| Panel { name: name.into(), length: Q::new(cm, &CM) };
        Ask {
            hanging,
            colours,
            ends,
            doubled: 0,
            winding,
            length: Q::new(2.98, &M),
            front: Q::new(18.0, &CM),
            back: Q::new(35.0, &CM),
            panels: vec![panel("body", 150.0), panel("sleeves", 80.0)],
            between: Q::new(5.0, &CM),
        }
    }

    #[test]
    fn a_striped_warp_wound_on_the_loom() {
        let hanging = Hanging::of(&Weave::Plain.draft(), Heddles::rigid(2)).unwrap();
        let colours = ColourOrder::parse("12 natural 4 indigo", &mut Vec::new()).unwrap();
        let plan = plan(&ask(&hanging, &colours, 100, Winding::Peg)).unwrap();
        assert_eq!((plan.loops_per_slot, plan.broken_pairs, plan.ends), (Some(2), 0, 100));
        assert_eq!(plan.of_colour, [76, 24]);
        assert_eq!(plan.passes.len(), 13);
        assert_eq!(plan.passes[1], Pass { from: 13, to: 16, colour: 1, loops: 2, singles: 0, slots: Some((4, 4)) });
        assert_eq!(plan.passes.iter().map(|p| 2 * p.loops + p.singles).sum::<usize>(), 100);
        assert_eq!(plan.knots, [20; 5]);
        let marks: Vec<_> = plan.marks.iter().map(|m| (m.at.get(&CM).round(), m.words.as_str())).collect();
        assert_eq!(
            marks[1..5],
            [(18.0, "begin body"), (168.0, "end body"), (173.0, "begin sleeves"), (253.0, "end sleeves")]
        );
        assert!((plan.spare.get(&CM) - 10.0).abs() < 1e-9 && plan.guide.get(&M) == 2.98);
    }

    #[test]
    fn odd_runs_leave_ends_alone() {
        let hanging = Hanging::of(&Weave::Plain.draft(), Heddles::rigid(1)).unwrap();
        let colours = ColourOrder::parse("3 natural 1 indigo", &mut Vec::new()).unwrap();
        let plan = plan(&ask(&hanging, &colours, 8, Winding::Peg)).unwrap();
        let wound: Vec<_> = plan.passes.iter().map(|p| (p.loops, p.singles, p.slots.unwrap())).collect();
        assert_eq!(wound, [(1, 1, (1, 2)), (0, 1, (2, 2)), (1, 1, (3, 4)), (0, 1, (4, 4))]);
        assert_eq!(plan.broken_pairs, 2);
    }

    #[test]
    fn parts_are_whole_and_none_is_a_rest_of_a_few() {
        for (all, parts) in [(908, 46), (20, 1), (5, 1), (0, 0), (41, 3)] {
            let shared = shared(all, KNOT);
            assert_eq!((shared.iter().sum::<usize>(), shared.len()), (all, parts), "{shared:?}");
            assert!(shared.iter().all(|p| all < 20 || (10..=20).contains(p)), "{shared:?}");
        }
    }

    #[test]
    fn refusals() {
        let shafts = Hanging::of(&Weave::Plain.draft(), Heddles::string(2)).unwrap();
        let one = ColourOrder::plain(0);
        assert!(plan(&ask(&shafts, &one, 100, Winding::Peg)).unwrap_err().help.contains("board"));
        assert_eq!(plan(&ask(&shafts, &one, 300, Winding::Board)).unwrap().chains, [120, 120, 60]);
        let mut short = ask(&shafts, &one, 100, Winding::Board);
        short.length = Q::new(2.5, &M);
        assert!(plan(&short).unwrap_err().message.contains("38.0 cm too short"));
        let odd =
            Hanging::of(&Weave::parse("twill 2/1").unwrap().draft(), Heddles::Rigid { heddles: 2, ends_per_pitch: 3 })
                .unwrap();
        assert!(plan(&ask(&odd, &one, 99, Winding::Peg)).is_err());
    }
}
