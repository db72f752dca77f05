//! A draft: which shaft each end hangs on, which shafts each treadle moves, and the order of treading; or a lift plan in
//! place of the last two. From it follows, for any end and pick, which of the two lies on the face.

use super::drawdown::period;
use super::{Drawdown, Fault, MOST_SHAFTS, MOST_THREADS, Set};

/// Which way a tied shaft moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Shed {
    /// Tied shafts go up and their ends lie on the face.
    #[default]
    Rising,
    /// Tied shafts go down and their ends lie at the back.
    Sinking,
}

/// How the shafts are moved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lifts {
    /// By treadles: the shafts tied to each, and the treadles pressed for each pick.
    Treadled { tieup: Vec<Set>, treadling: Vec<Set> },
    /// Each pick names its shafts.
    Plan(Vec<Set>),
}

/// A draft, valid by making.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// What people call it.
    pub name: String,
    shafts: usize,
    threading: Vec<Set>,
    lifts: Lifts,
    shed: Shed,
}

impl Draft {
    /// Checks that every number is in range: 1 to [`MOST_SHAFTS`] shafts and treadles, 1 to [`MOST_THREADS`] ends and picks.
    /// An end on no shaft and a pick that moves none are allowed (the reader of a draft sees them as floats).
    pub fn new(name: &str, shafts: usize, threading: Vec<Set>, lifts: Lifts, shed: Shed) -> Result<Self, Fault> {
        in_range("shafts", shafts, MOST_SHAFTS)?;
        in_range("ends", threading.len(), MOST_THREADS)?;
        let highest = |sets: &[Set]| sets.iter().filter_map(Set::last).max().unwrap_or(0);
        let within = |what: &str, sets: &[Set], most: usize, of: &str| match highest(sets) {
            n if n > most => Err(Fault::new(format!("{what} names {of} {n}"), format!("there are {most}"))),
            _ => Ok(()),
        };
        within("the threading", &threading, shafts, "shaft")?;
        match &lifts {
            Lifts::Treadled { tieup, treadling } => {
                in_range("treadles", tieup.len(), MOST_SHAFTS)?;
                in_range("picks", treadling.len(), MOST_THREADS)?;
                within("the tie-up", tieup, shafts, "shaft")?;
                within("the treadling", treadling, tieup.len(), "treadle")?;
            }
            Lifts::Plan(plan) => {
                in_range("picks", plan.len(), MOST_THREADS)?;
                within("the lift plan", plan, shafts, "shaft")?;
            }
        }
        Ok(Draft { name: name.to_string(), shafts, threading, lifts, shed })
    }

    /// Number of shafts.
    pub fn shafts(&self) -> usize {
        self.shafts
    }
    /// Number of ends drafted.
    pub fn ends(&self) -> usize {
        self.threading.len()
    }
    /// Number of picks drafted.
    pub fn picks(&self) -> usize {
        match &self.lifts {
            Lifts::Treadled { treadling, .. } => treadling.len(),
            Lifts::Plan(plan) => plan.len(),
        }
    }
    /// Shafts of each end.
    pub fn threading(&self) -> &[Set] {
        &self.threading
    }
    /// How the shafts are moved.
    pub fn lifts(&self) -> &Lifts {
        &self.lifts
    }
    /// Which way tied shafts move.
    pub fn shed(&self) -> Shed {
        self.shed
    }

    /// Shafts moved for a pick, as the draft says it: up on a rising shed, down on a sinking one. Several treadles pressed at
    /// once move what any of them is tied to.
    pub fn moved(&self, pick: usize) -> Set {
        match &self.lifts {
            Lifts::Treadled { tieup, treadling } => {
                treadling[pick].iter().fold(Set::EMPTY, |all, treadle| all.union(&tieup[treadle - 1]))
            }
            Lifts::Plan(plan) => plan[pick],
        }
    }
    /// Shafts that are up for a pick, whatever the shed.
    pub fn raised(&self, pick: usize) -> Set {
        match self.shed {
            Shed::Rising => self.moved(pick),
            Shed::Sinking => self.moved(pick).others(self.shafts),
        }
    }
    /// Whether the end lies on the face at the pick: it hangs on a shaft that moves, turned round on a sinking shed.
    pub fn warp_up(&self, end: usize, pick: usize) -> bool {
        self.threading[end].meets(&self.moved(pick)) == (self.shed == Shed::Rising)
    }

    /// Every end by every pick. Refuses more than [`super::MOST_CROSSINGS`]; see [`Draft::repeat`].
    pub fn drawdown(&self) -> Result<Drawdown, Fault> {
        let moved: Vec<Set> = (0..self.picks()).map(|pick| self.moved(pick)).collect();
        self.block(self.ends(), &moved)
    }
    /// The least block that repeats, found without drawing the whole.
    pub fn repeat(&self) -> Result<Drawdown, Fault> {
        let ends = period(self.ends(), |a, b| self.threading[a] == self.threading[b]);
        let moved: Vec<Set> = (0..self.picks()).map(|pick| self.moved(pick)).collect();
        let picks = period(moved.len(), |a, b| moved[a] == moved[b]);
        Ok(self.block(ends, &moved[..picks])?.repeat())
    }
    fn block(&self, ends: usize, moved: &[Set]) -> Result<Drawdown, Fault> {
        let rising = self.shed == Shed::Rising;
        Drawdown::from_fn(ends, moved.len(), |end, pick| self.threading[end].meets(&moved[pick]) == rising)
    }

    /// The same cloth as a lift plan on a rising shed.
    pub fn as_lift_plan(&self) -> Draft {
        let plan = (0..self.picks()).map(|pick| self.raised(pick)).collect();
        Draft { lifts: Lifts::Plan(plan), shed: Shed::Rising, ..self.clone() }
    }

    /// Heddles wanted on each shaft for `ends` ends, the threading repeating.
    pub fn heddles_per_shaft(&self, ends: usize) -> Vec<usize> {
        let mut count = vec![0; self.shafts];
        let (whole, rest) = (ends / self.ends(), ends % self.ends());
        for (i, set) in self.threading.iter().enumerate() {
            for shaft in set.iter() {
                count[shaft - 1] += whole + usize::from(i < rest);
            }
        }
        count
    }
}

fn in_range(what: &str, number: usize, most: usize) -> Result<(), Fault> {
    match number {
        0 => Err(Fault::new(format!("the draft has no {what}"), format!("give 1 to {most}"))),
        n if n > most => Err(Fault::new(format!("the draft has {n} {what}"), format!("at most {most}"))),
        _ => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn straight(shafts: usize) -> Vec<Set> {
        (1..=shafts).map(|s| Set::of(&[s])).collect()
    }

    /// The two drafts worked through in the notes on WIF: plain by a tie-up, 2/2 twill by a lift plan, and both inverted.
    #[test]
    fn rising_and_sinking_sheds() {
        let tie = || Lifts::Treadled {
            tieup: vec![Set::of(&[1, 3]), Set::of(&[2, 4])],
            treadling: [1, 2, 1, 2].map(|t| Set::of(&[t])).to_vec(),
        };
        let plan = || Lifts::Plan([[1, 2], [2, 3], [3, 4], [1, 4]].map(|s| Set::of(&s)).to_vec());
        let rows = |lifts, shed| Draft::new("", 4, straight(4), lifts, shed).unwrap().drawdown().unwrap().rows();
        assert_eq!(rows(tie(), Shed::Rising), "1010/0101/1010/0101");
        assert_eq!(rows(plan(), Shed::Rising), "1100/0110/0011/1001");
        assert_eq!(rows(tie(), Shed::Sinking), "0101/1010/0101/1010");
        assert_eq!(rows(plan(), Shed::Sinking), "0011/1001/1100/0110");
    }

    #[test]
    fn several_treadles_move_what_any_is_tied_to_and_a_lift_plan_says_the_same() {
        let tieup = vec![Set::of(&[1]), Set::of(&[2]), Set::of(&[3, 4])];
        let lifts = Lifts::Treadled { tieup, treadling: vec![Set::of(&[1, 2]), Set::of(&[3]), Set::EMPTY] };
        let draft = Draft::new("", 4, straight(4), lifts, Shed::Sinking).unwrap();
        assert_eq!(draft.drawdown().unwrap().rows(), "0011/1100/1111");
        assert_eq!(draft.as_lift_plan().drawdown().unwrap(), draft.drawdown().unwrap());
    }

    /// Brooks, "Healds": a 60s set on 4 shafts has 15 to the inch on each; a 12-end point draft on 5 shafts at 5 patterns to
    /// the inch has 5, 10, 15, 20, 10.
    #[test]
    fn heddles_per_shaft_as_brooks_has_them() {
        let lifts = || Lifts::Plan(vec![Set::of(&[1])]);
        let draft = Draft::new("", 4, straight(4), lifts(), Shed::Rising).unwrap();
        assert_eq!(draft.heddles_per_shaft(60), [15; 4]);
        let point = [1, 2, 3, 4, 5, 4, 3, 4, 5, 4, 3, 2].map(|s| Set::of(&[s])).to_vec();
        let draft = Draft::new("", 5, point, lifts(), Shed::Rising).unwrap();
        assert_eq!(draft.heddles_per_shaft(5 * 12), [5, 10, 15, 20, 10]);
        assert_eq!(draft.heddles_per_shaft(14), [2, 3, 3, 4, 2]);
    }

    #[test]
    fn numbers_out_of_range_are_refused_with_the_number() {
        let plan = |n| Lifts::Plan(vec![Set::of(&[n])]);
        let fault = Draft::new("", 4, straight(5), plan(1), Shed::Rising).unwrap_err();
        assert_eq!(fault.to_string(), "the threading names shaft 5; there are 4");
        assert!(Draft::new("", 4, straight(4), plan(7), Shed::Rising).is_err());
        assert!(Draft::new("", 0, straight(4), plan(1), Shed::Rising).is_err());
        assert!(Draft::new("", 4, Vec::new(), plan(1), Shed::Rising).is_err());
        assert!(Draft::new("", 300, straight(4), plan(1), Shed::Rising).is_err());
    }
}
