//! From entries to what [`crate::measure`] takes: the one place where field names meet estimators. Works nothing out but what a
//! row says by itself (a mass over a length), and keeps the order of happening where drift is looked for.

use super::store::Entry;
use crate::measure::cloth::Swatch;
use crate::measure::evenness::Bobbin;
use crate::measure::pace::{Day, Session};
use crate::measure::runout::Used;
use crate::measure::stage::Batch;
use crate::measure::yarn::{BreakTest, Skein, TwistTest};
use crate::units::{Dimension, Length, LinearDensity, Mass, Number, PerLength, Q};
use std::collections::BTreeMap;

/// All that a log's entries say, ready to be estimated from.
#[derive(Clone, Debug, Default)]
pub struct Samples {
    /// Skeins, and the lengths cut from bobbins to check.
    pub skeins: Vec<Skein>,
    pub twists: Vec<TwistTest>,
    pub breaks: Vec<BreakTest>,
    pub swatches: Vec<Swatch>,
    /// Batches by stage, where both masses were weighed.
    pub batches: BTreeMap<String, Vec<Batch>>,
    /// Fibre that came out of each stage in all.
    pub prepared: BTreeMap<String, Q<Mass>>,
    /// Sittings by step.
    pub work: BTreeMap<String, Work>,
    /// Time worked, by day.
    pub days: Vec<Day>,
    /// Bobbins done whose count can be told, in the order they were done.
    pub bobbins: Vec<Bobbin>,
    /// Mass of all bobbins done.
    pub spun: Option<Q<Mass>>,
    /// Picks as they were checked.
    pub picks: Vec<Q<PerLength>>,
    /// Weft used between weighings.
    pub used: Vec<Used>,
    /// Length woven, at its last mark.
    pub woven: Option<Q<Length>>,
    /// Weft yarn left, at its last weighing.
    pub weft_left: Option<Q<Mass>>,
    /// Length woven at that weighing.
    weighed_at: Option<Q<Length>>,
    /// Ends broken so far.
    pub ends_broken: f64,
}

/// Sittings at one step, by what was counted.
#[derive(Clone, Debug, Default)]
pub struct Work {
    pub by_length: Vec<Session<Length>>,
    pub by_mass: Vec<Session<Mass>>,
    pub by_number: Vec<Session<Number>>,
}

fn get<D: Dimension>(entry: &Entry, field: &str) -> Option<Q<D>> {
    entry.si(field).map(Q::si)
}

/// A bobbin's or warp's number.
fn number(entry: &Entry, field: &str) -> u32 {
    entry.si(field).map_or(0, |n| n.clamp(0.0, 4e9) as u32)
}

/// Reads entries, given in the order they happened.
pub fn samples(entries: &[Entry]) -> Samples {
    let mut s = Samples::default();
    for entry in entries {
        match entry.kind.as_str() {
            "fibre" => s.fibre(entry),
            "skein" => s.skein(entry),
            "bobbin" => s.bobbin(entry),
            "swatch" => s.swatches.push(swatch(entry)),
            "picks" => s.picks.extend(get(entry, "picks")),
            "woven" => s.woven(entry),
            "breaks" => s.ends_broken += entry.si("ends").unwrap_or(0.0),
            "minutes" => s.minutes(entry),
            _ => {}
        }
    }
    s
}

impl Samples {
    fn fibre(&mut self, entry: &Entry) {
        let (Some(stage), Some(after)) = (entry.typed("stage"), get::<Mass>(entry, "after")) else { return };
        let sum = self.prepared.entry(stage.to_string()).or_insert(Q::si(0.0));
        *sum = *sum + after;
        if let Some(before) = get(entry, "before") {
            self.batches.entry(stage.to_string()).or_default().push(Batch { before, after });
        }
    }

    fn skein(&mut self, entry: &Entry) {
        let bobbin = number(entry, "bobbin");
        if let (Some(mass), Some(counted)) = (get(entry, "mass"), get(entry, "counted")) {
            self.skeins.push(Skein { bobbin, mass, counted, washed: get(entry, "after_washing") });
        }
        if let Some(set) = get::<PerLength>(entry, "twist_set") {
            let counted = entry.values("twist").iter().filter_map(|f| f.si).map(Q::si);
            self.twists.extend(counted.map(|counted| TwistTest { bobbin, set, counted }));
        }
        let loads = entry.values("break_load").iter().filter_map(|f| f.si).map(Q::si);
        self.breaks.extend(loads.map(|load| BreakTest { bobbin, load }));
    }

    fn bobbin(&mut self, entry: &Entry) {
        let name = number(entry, "bobbin");
        let Some(mass) = get::<Mass>(entry, "mass") else { return };
        self.spun = Some(self.spun.map_or(mass, |sum| sum + mass));
        let counted = get::<Length>(entry, "counted");
        let check = get::<Mass>(entry, "check_mass").zip(get::<Length>(entry, "check_length"));
        if let Some((mass, length)) = check {
            self.skeins.push(Skein { bobbin: name, mass, counted: length, washed: None });
        }
        let by_check = check.map(|(m, l)| m.to_si() / l.to_si());
        let Some(count) = by_check.or(counted.map(|l| mass.to_si() / l.to_si())) else { return };
        let count: Q<LinearDensity> = Q::si(count);
        let length = counted.unwrap_or(Q::si(mass.to_si() / count.to_si()));
        self.bobbins.push(Bobbin { name, count, length });
    }

    fn woven(&mut self, entry: &Entry) {
        let Some(woven) = get::<Length>(entry, "woven") else { return };
        if let Some(left) = get::<Mass>(entry, "weft_left") {
            // Use is told only between two weighings, and only while the cloth grew.
            if let (Some(before), Some(had)) = (self.weighed_at, self.weft_left)
                && woven > before
                && had > left
            {
                self.used.push(Used { weft: had - left, woven: woven - before });
            }
            (self.weighed_at, self.weft_left) = (Some(woven), Some(left));
        }
        self.woven = Some(woven);
    }

    fn minutes(&mut self, entry: &Entry) {
        let (Some(step), Some(time)) = (entry.typed("step"), get(entry, "time")) else { return };
        let day = entry.happened.day();
        match self.days.last_mut() {
            Some(last) if last.day == day => last.time = last.time + time,
            _ => self.days.push(Day { day, time }),
        }
        let work = self.work.entry(step.to_string()).or_default();
        work.by_length.extend(get(entry, "done_length").map(|done| Session { time, done }));
        work.by_mass.extend(get(entry, "done_mass").map(|done| Session { time, done }));
        work.by_number.extend(get(entry, "done_number").map(|done| Session { time, done }));
    }
}

fn swatch(entry: &Entry) -> Swatch {
    Swatch {
        warp: number(entry, "warp"),
        in_reed: get(entry, "in_reed"),
        width_on_loom: get(entry, "width_on_loom"),
        width_off_loom: get(entry, "width_off_loom"),
        width_washed: get(entry, "width_washed"),
        length_on_loom: get(entry, "length_on_loom"),
        length_off_loom: get(entry, "length_off_loom"),
        length_washed: get(entry, "length_washed"),
        warp_thread: get(entry, "warp_thread").zip(get(entry, "warp_cloth")),
        weft_thread: get(entry, "weft_thread").zip(get(entry, "weft_cloth")),
    }
}
