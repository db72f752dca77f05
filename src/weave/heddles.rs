//! Heddles as hardware, and how a draft hangs on them.
//!
//! A rigid heddle has, in each pitch, one eye that lifts its thread and one slot that leaves all others alone. With several of
//! them one behind another a thread in the eye of one passes the slots of the rest, and a thread in slots only stays where it
//! is: so `n` heddles move `n` kinds of threads and leave one, and any shed of those `n + 1` kinds can be had with two levels.
//! String heddles hang on shafts; a separate reed spaces the threads. Knows counts and orders, no lengths and no forces.

use super::drawdown::period;
use super::{Draft, Fault, Set};
use std::collections::BTreeMap;

/// Most rigid heddles one behind another.
pub const MOST_HEDDLES: usize = 3;

/// What lifts the threads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Heddles {
    /// Rigid heddles one behind another, and how many ends go into each pitch (one slot and one eye of one heddle).
    Rigid { heddles: usize, ends_per_pitch: usize },
    /// String heddles on shafts, and how many ends go into each dent of the reed.
    String { shafts: usize, ends_per_dent: usize },
}

impl Heddles {
    /// `heddles` rigid heddles, each with one eye and one free thread to the pitch: 2 ends for one, 4 for two.
    pub fn rigid(heddles: usize) -> Self {
        Heddles::Rigid { heddles, ends_per_pitch: 2 * heddles }
    }
    /// String heddles on `shafts` shafts, one end in each dent.
    pub fn string(shafts: usize) -> Self {
        Heddles::String { shafts, ends_per_dent: 1 }
    }
}

/// Where a thread goes in one rigid heddle; eyes and slots are counted from 1 at the left, a slot before each eye and one after
/// the last.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    Eye(usize),
    Slot(usize),
}

/// Where a thread goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// Its way through each rigid heddle, the one nearest the weaver first.
    Rigid(Vec<Way>),
    /// Its shafts, with the number of its heddle on each (both from 1), and its dent in the reed.
    String { heddles: Vec<(usize, usize)>, dent: usize },
}

/// Where a rigid heddle is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hold {
    Down,
    Rest,
    Up,
}

/// What is done for a pick.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Move {
    /// Each rigid heddle, the one nearest the weaver first.
    Rigid(Vec<Hold>),
    /// The shafts that are up.
    String(Set),
}

/// What is needed in hardware for a number of ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Needs {
    /// Eyes used and slots used of each rigid heddle, and the most threads that share a slot.
    Rigid { eyes: Vec<usize>, slots: Vec<usize>, threads_in_slot: usize },
    /// Heddles on each shaft, and dents of the reed.
    String { heddles: Vec<usize>, dents: usize },
}

/// A draft hung on heddles.
#[derive(Clone, Debug)]
pub struct Hanging {
    heddles: Heddles,
    draft: Draft,
    /// Kind of each end of the repeat: ends that always move together are of one kind.
    kinds: Vec<usize>,
    /// Heddles (from 0, nearest first) that hold each kind; none for the kind that stays in slots.
    holders: Vec<Vec<usize>>,
    /// For each shaft, the ends of the repeat on it.
    on_shaft: Vec<Vec<usize>>,
}

impl Hanging {
    /// Hangs a draft. A refusal says what is short, and what would do.
    pub fn of(draft: &Draft, heddles: Heddles) -> Result<Self, Fault> {
        let ends = period(draft.ends(), |a, b| draft.threading()[a] == draft.threading()[b]);
        let mut hanging =
            Hanging { heddles, draft: draft.clone(), kinds: Vec::new(), holders: Vec::new(), on_shaft: Vec::new() };
        match heddles {
            Heddles::String { shafts, ends_per_dent } => {
                if draft.shafts() > shafts {
                    let message = format!("this weave needs {} shafts and the loom has {shafts}", draft.shafts());
                    return Err(Fault::new(message, "add shafts or choose a weave with fewer"));
                }
                at_least_one(ends_per_dent, "end in a dent")?;
                hanging.kinds = vec![0; ends];
                hanging.on_shaft = on_shafts(draft, ends);
            }
            Heddles::Rigid { heddles, ends_per_pitch } => {
                at_least_one(heddles, "heddle")?;
                at_least_one(ends_per_pitch, "end in a pitch")?;
                if heddles > MOST_HEDDLES {
                    let message = format!("{heddles} rigid heddles one behind another leave no shed");
                    return Err(Fault::new(
                        message,
                        format!("at most {MOST_HEDDLES}; string heddles on shafts for more"),
                    ));
                }
                hanging.kinds = kinds(draft, ends)?;
                hanging.holders = holders(&hanging.kinds, heddles, ends_per_pitch)
                    .ok_or_else(|| cannot(draft, &hanging.kinds, heddles, ends_per_pitch))?;
            }
        }
        Ok(hanging)
    }

    /// What it hangs on.
    pub fn heddles(&self) -> Heddles {
        self.heddles
    }
    /// What hangs.
    pub fn draft(&self) -> &Draft {
        &self.draft
    }

    /// Where an end goes, counted from 0, the threading repeating.
    pub fn place(&self, end: usize) -> Place {
        match self.heddles {
            Heddles::Rigid { heddles, ends_per_pitch } => {
                Place::Rigid((0..heddles).map(|h| self.way(end, h, ends_per_pitch)).collect())
            }
            Heddles::String { ends_per_dent, .. } => {
                let (whole, part) = (end / self.kinds.len(), end % self.kinds.len());
                let number = |shaft: usize| {
                    let ends = &self.on_shaft[shaft - 1];
                    (shaft, whole * ends.len() + ends.partition_point(|&e| e < part) + 1)
                };
                let shafts = self.draft.threading()[part];
                Place::String { heddles: shafts.iter().map(number).collect(), dent: end / ends_per_dent + 1 }
            }
        }
    }

    /// The heddle (from 0) whose eye holds an end, if any does.
    fn holder(&self, end: usize, ends_per_pitch: usize) -> Option<usize> {
        let kind = self.kinds[end % self.kinds.len()];
        let first = end / ends_per_pitch * ends_per_pitch;
        let before = (first..end).filter(|&e| self.kinds[e % self.kinds.len()] == kind).count();
        self.holders[kind].get(before).copied()
    }

    fn way(&self, end: usize, heddle: usize, ends_per_pitch: usize) -> Way {
        let pitch = end / ends_per_pitch;
        if self.holder(end, ends_per_pitch) == Some(heddle) {
            return Way::Eye(pitch + 1);
        }
        let passed = (pitch * ends_per_pitch..end).any(|e| self.holder(e, ends_per_pitch) == Some(heddle));
        Way::Slot(pitch + 1 + usize::from(passed))
    }

    /// What is done for a pick of the draft, counted from 0.
    pub fn moves(&self, pick: usize) -> Move {
        let raised = self.draft.raised(pick % self.draft.picks());
        let Heddles::Rigid { heddles, .. } = self.heddles else { return Move::String(raised) };
        let up = |kind: usize| {
            let end = self.kinds.iter().position(|&k| k == kind).unwrap_or(0);
            self.draft.threading()[end].meets(&raised)
        };
        let slots_up = (0..self.holders.len()).find(|&k| self.holders[k].is_empty()).is_some_and(up);
        let mut holds = vec![Hold::Rest; heddles];
        for (kind, holders) in self.holders.iter().enumerate() {
            for &heddle in holders {
                holds[heddle] = match (up(kind), slots_up) {
                    (true, false) => Hold::Up,
                    (false, true) => Hold::Down,
                    _ => Hold::Rest,
                };
            }
        }
        Move::Rigid(holds)
    }

    /// The moves of one repeat of picks, and whether the pick opens a shed at all.
    pub fn order_of_moves(&self) -> Vec<(Move, bool)> {
        let picks = period(self.draft.picks(), |a, b| self.draft.moved(a) == self.draft.moved(b));
        let opens = |moves: &Move| match moves {
            Move::Rigid(holds) => holds.iter().any(|h| *h != Hold::Rest),
            Move::String(up) => !up.is_empty() && up.len() < self.draft.shafts(),
        };
        (0..picks).map(|pick| self.moves(pick)).map(|m| (m.clone(), opens(&m))).collect()
    }

    /// What `ends` ends need.
    pub fn needs(&self, ends: usize) -> Needs {
        match self.heddles {
            Heddles::String { ends_per_dent, .. } => {
                Needs::String { heddles: self.draft.heddles_per_shaft(ends), dents: ends.div_ceil(ends_per_dent) }
            }
            Heddles::Rigid { heddles, ends_per_pitch } => {
                let mut eyes = vec![0; heddles];
                let mut slots: Vec<BTreeMap<usize, usize>> = vec![BTreeMap::new(); heddles];
                for end in 0..ends {
                    for (heddle, slots) in slots.iter_mut().enumerate() {
                        match self.way(end, heddle, ends_per_pitch) {
                            Way::Eye(_) => eyes[heddle] += 1,
                            Way::Slot(n) => *slots.entry(n).or_default() += 1,
                        }
                    }
                }
                let threads_in_slot = slots.iter().flat_map(BTreeMap::values).copied().max().unwrap_or(0);
                Needs::Rigid { eyes, slots: slots.iter().map(BTreeMap::len).collect(), threads_in_slot }
            }
        }
    }
}

fn at_least_one(number: usize, what: &str) -> Result<(), Fault> {
    if number == 0 { Err(Fault::new(format!("no {what}"), "give at least one")) } else { Ok(()) }
}

fn on_shafts(draft: &Draft, ends: usize) -> Vec<Vec<usize>> {
    let mut on = vec![Vec::new(); draft.shafts()];
    for (end, shafts) in draft.threading()[..ends].iter().enumerate() {
        shafts.iter().for_each(|s| on[s - 1].push(end));
    }
    on
}

/// A kind for each end of the repeat: two are of one kind when every pick moves both or neither.
fn kinds(draft: &Draft, ends: usize) -> Result<Vec<usize>, Fault> {
    let picks = period(draft.picks(), |a, b| draft.moved(a) == draft.moved(b));
    let mut lifts: Vec<Set> = (0..picks).map(|pick| draft.raised(pick)).collect();
    lifts.sort();
    lifts.dedup();
    if lifts.len().saturating_mul(ends) > super::MOST_CROSSINGS {
        return Err(Fault::new(
            format!("{ends} ends and {picks} picks without a shorter repeat"),
            "too many for rigid heddles",
        ));
    }
    let mut seen: BTreeMap<Vec<bool>, usize> = BTreeMap::new();
    let mut kind = |end: &Set| {
        let next = seen.len();
        *seen.entry(lifts.iter().map(|lift| end.meets(lift)).collect()).or_insert(next)
    };
    Ok(draft.threading()[..ends].iter().map(&mut kind).collect())
}

/// Which heddles hold which kind, so that in no pitch a heddle is asked for two eyes; `None` if there are too few.
fn holders(kinds: &[usize], heddles: usize, ends_per_pitch: usize) -> Option<Vec<Vec<usize>>> {
    let number = kinds.iter().max()? + 1;
    if number > heddles + 1 {
        return None;
    }
    let wanted = eyes_wanted(kinds, number, ends_per_pitch);
    let all: usize = wanted.iter().sum();
    let count = |kind: usize| kinds.iter().filter(|&&k| k == kind).count();
    // One kind stays in slots: the one that saves most eyes, among equals the commonest, and the later so that plain begins in an eye.
    let free = (0..number).max_by_key(|&k| (wanted[k], count(k), k))?;
    // One kind alone would be no cloth, but it hangs: all in slots.
    if all - wanted[free] > heddles {
        return None;
    }
    let mut next = 0;
    let mut hold = |kind: usize| {
        let from = next;
        next += if kind == free { 0 } else { wanted[kind] };
        (from..next).collect::<Vec<_>>()
    };
    Some((0..number).map(&mut hold).collect())
}

/// Most ends of each kind in any pitch.
fn eyes_wanted(kinds: &[usize], number: usize, ends_per_pitch: usize) -> Vec<usize> {
    let mut wanted = vec![0; number];
    // Pitches and repeats fall together again after as many pitches as the repeat has ends.
    for pitch in 0..kinds.len() {
        let mut here = vec![0; number];
        for end in pitch * ends_per_pitch..(pitch + 1) * ends_per_pitch {
            here[kinds[end % kinds.len()]] += 1;
        }
        for (most, n) in wanted.iter_mut().zip(here) {
            *most = n.max(*most);
        }
    }
    wanted
}

/// Why it cannot be woven so, and what would do.
fn cannot(draft: &Draft, kinds: &[usize], heddles: usize, ends_per_pitch: usize) -> Fault {
    let number = kinds.iter().max().map_or(0, |k| k + 1);
    let (plural, leave) = if heddles == 1 { ("heddle moves", "leaves") } else { ("heddles together move", "leave") };
    if number > heddles + 1 {
        let message = format!(
            "this weave has {number} kinds of threads that move differently; {heddles} rigid {plural} {heddles} and {leave} 1"
        );
        let help = match number - 1 {
            n if n <= MOST_HEDDLES => format!("take {n} rigid heddles, or string heddles on {} shafts", draft.shafts()),
            _ => format!("take string heddles on {} shafts with a separate reed", draft.shafts()),
        };
        return Fault::new(message, help);
    }
    let message = format!("with {ends_per_pitch} ends to a pitch, threads that move alike need two eyes in one pitch");
    let other = (1..=2 * heddles).rev().find(|&n| holders(kinds, heddles, n).is_some());
    let help = match other {
        Some(n) => format!("make the heddle for {n} ends to a pitch: its pitch is {n} ÷ sett"),
        None => format!("take more rigid heddles, or string heddles on {} shafts with a separate reed", draft.shafts()),
    };
    Fault::new(message, help)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weave::Weave;

    fn hang(weave: &str, heddles: Heddles) -> Result<Hanging, Fault> {
        Hanging::of(&Weave::parse(weave).unwrap().draft(), heddles)
    }
    fn ways(hanging: &Hanging, ends: usize) -> String {
        let letter = |end| match hanging.place(end) {
            Place::Rigid(ways) => {
                ways.iter().position(|w| matches!(w, Way::Eye(_))).map_or("s".into(), |h| (h + 1).to_string())
            }
            Place::String { .. } => "?".to_string(),
        };
        (0..ends).map(letter).collect()
    }

    #[test]
    fn plain_on_one_two_and_three_heddles() {
        for (heddles, order) in [(1, "1s1s1s1s"), (2, "1s2s1s2s"), (3, "1s2s3s1s")] {
            let hanging = hang("plain", Heddles::rigid(heddles)).unwrap();
            assert_eq!(ways(&hanging, 8), order);
            let all = |hold| Move::Rigid(vec![hold; heddles]);
            assert_eq!(hanging.order_of_moves(), [(all(Hold::Up), true), (all(Hold::Down), true)]);
        }
    }

    /// With two heddles each slot passes the other heddle's eye thread and two free ones.
    #[test]
    fn three_threads_in_a_slot_of_two_heddles() {
        let two = hang("plain", Heddles::rigid(2)).unwrap();
        let Needs::Rigid { eyes, slots, threads_in_slot } = two.needs(908) else { panic!() };
        // 908 ends: 227 eyes in each heddle, and one slot more than eyes.
        assert_eq!((eyes, threads_in_slot), (vec![227, 227], 3));
        assert_eq!(slots, [227, 228]);
        let Needs::Rigid { eyes, slots, threads_in_slot } = hang("plain", Heddles::rigid(1)).unwrap().needs(100) else {
            panic!()
        };
        assert_eq!((eyes, slots, threads_in_slot), (vec![50], vec![50], 1));
        assert_eq!(two.place(0), Place::Rigid(vec![Way::Eye(1), Way::Slot(1)]));
        assert_eq!(two.place(1), Place::Rigid(vec![Way::Slot(2), Way::Slot(1)]));
        assert_eq!(two.place(2), Place::Rigid(vec![Way::Slot(2), Way::Eye(1)]));
        assert_eq!(two.place(3), Place::Rigid(vec![Way::Slot(2), Way::Slot(2)]));
        assert_eq!(two.place(4), Place::Rigid(vec![Way::Eye(2), Way::Slot(2)]));
    }

    /// A shed is opened with two levels only, and the threads that come to lie up are those of the drawdown.
    #[test]
    fn each_move_lifts_what_the_drawdown_says() {
        for (weave, heddles) in [
            ("plain", Heddles::rigid(1)),
            ("plain", Heddles::rigid(2)),
            ("rib 2/2", Heddles::rigid(1)),
            ("twill 2/1", Heddles::Rigid { heddles: 2, ends_per_pitch: 3 }),
            ("twill 1/2 S", Heddles::Rigid { heddles: 2, ends_per_pitch: 3 }),
            ("twill 2/2", Heddles::Rigid { heddles: 3, ends_per_pitch: 4 }),
            ("twill 3/1", Heddles::Rigid { heddles: 3, ends_per_pitch: 4 }),
            ("hopsack 2", Heddles::Rigid { heddles: 2, ends_per_pitch: 4 }),
        ] {
            let hanging = hang(weave, heddles).unwrap_or_else(|f| panic!("{weave}: {f}"));
            let block = Weave::parse(weave).unwrap().repeat();
            for (pick, (moves, opens)) in hanging.order_of_moves().into_iter().enumerate() {
                let Move::Rigid(holds) = moves else { panic!() };
                assert!(opens && !(holds.contains(&Hold::Up) && holds.contains(&Hold::Down)), "{weave}: two levels");
                let slots = if holds.contains(&Hold::Down) { Hold::Up } else { Hold::Down };
                for end in 0..24 {
                    let Place::Rigid(ways) = hanging.place(end) else { panic!() };
                    let held = ways.iter().position(|w| matches!(w, Way::Eye(_))).map(|h| holds[h]);
                    let up = match held {
                        None | Some(Hold::Rest) => slots == Hold::Up,
                        Some(hold) => hold == Hold::Up,
                    };
                    assert_eq!(up, block.warp_up(end, pick), "{weave} end {end} pick {pick}");
                }
            }
        }
    }

    #[test]
    fn what_cannot_be_woven_is_said_with_what_would_do() {
        let fault = hang("twill 2/2", Heddles::rigid(1)).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "this weave has 4 kinds of threads that move differently; 1 rigid heddle moves 1 and leaves 1; \
             take 3 rigid heddles, or string heddles on 4 shafts"
        );
        let fault = hang("twill 2/1", Heddles::rigid(2)).unwrap_err();
        assert!(fault.message.contains("two eyes in one pitch") && fault.help.contains("3 ends to a pitch"), "{fault}");
        let fault = hang("satin 8/3", Heddles::rigid(3)).unwrap_err();
        assert!(fault.message.contains("8 kinds") && fault.help.contains("on 8 shafts"), "{fault}");
        assert!(hang("twill 2/2", Heddles::string(3)).unwrap_err().message.contains("needs 4 shafts"));
        assert!(hang("plain", Heddles::rigid(0)).is_err() && hang("plain", Heddles::rigid(9)).is_err());
        assert!(hang("plain", Heddles::Rigid { heddles: 1, ends_per_pitch: 0 }).is_err());
    }

    #[test]
    fn string_heddles_are_numbered_along_their_shaft() {
        let hanging = hang("twill 2/2", Heddles::String { shafts: 4, ends_per_dent: 2 }).unwrap();
        assert_eq!(hanging.place(0), Place::String { heddles: vec![(1, 1)], dent: 1 });
        assert_eq!(hanging.place(9), Place::String { heddles: vec![(2, 3)], dent: 5 });
        assert_eq!(hanging.needs(10), Needs::String { heddles: vec![3, 3, 2, 2], dents: 5 });
        let mut counted = [0; 4];
        for end in 0..10 {
            let Place::String { heddles, .. } = hanging.place(end) else { panic!() };
            let (shaft, number) = heddles[0];
            counted[shaft - 1] += 1;
            assert_eq!(number, counted[shaft - 1]);
        }
        assert_eq!(hanging.moves(1), Move::String(Set::of(&[2, 3])));
    }
}
