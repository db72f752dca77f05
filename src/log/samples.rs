//! From entries to [`Samples`]: the one place where field names meet estimators. Works nothing out but what a row says by itself
//! (a mass over a length), and keeps the order of happening where drift is looked for.

use super::store::Entry;
use crate::measure::cloth::Swatch;
use crate::measure::evenness::Bobbin;
use crate::measure::pace::{Day, Session};
use crate::measure::runout::Used;
pub use crate::measure::samples::{Samples, Use, WarpOn, Work};
use crate::measure::stage::Batch;
use crate::measure::strip::Strip;
use crate::measure::yarn::{BreakTest, Skein, TwistTest, USUAL_GAUGE};
use crate::units::{Dimension, Length, LinearDensity, Mass, PerLength, Q};

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
            "fibre" => fibre(&mut s, entry),
            "skein" => skein(&mut s, entry),
            "bobbin" => bobbin(&mut s, entry),
            "swatch" => s.swatches.push(swatch(entry)),
            "warp" => s.warp = warp(entry).or(s.warp),
            "weft" => weft(&mut s, entry),
            "picks" => s.picks.extend(get(entry, "picks")),
            "woven" => woven(&mut s, entry),
            "breaks" => s.ends_broken += entry.si("ends").unwrap_or(0.0),
            "minutes" => minutes(&mut s, entry),
            "strip" => s.strips.push(Strip {
                line: get(entry, "positive_line"),
                gap: get(entry, "negative_line"),
                dot: get(entry, "dot"),
            }),
            _ => {}
        }
        let day = entry.happened.day();
        s.last_day = Some(s.last_day.map_or(day, |last| last.max(day)));
    }
    s
}

fn fibre(s: &mut Samples, entry: &Entry) {
    let (Some(stage), Some(after)) = (entry.typed("stage"), get::<Mass>(entry, "after")) else { return };
    let sum = s.prepared.entry(stage.to_string()).or_insert(Q::si(0.0));
    *sum = *sum + after;
    if let Some(before) = get(entry, "before") {
        let sum = s.taken.entry(stage.to_string()).or_insert(Q::si(0.0));
        *sum = *sum + before;
        s.batches.entry(stage.to_string()).or_default().push(Batch { before, after });
    }
}

fn skein(s: &mut Samples, entry: &Entry) {
    let bobbin = number(entry, "bobbin");
    if let (Some(mass), Some(counted)) = (get(entry, "mass"), get(entry, "counted")) {
        s.skeins.push(Skein { bobbin, mass, counted, washed: get(entry, "after_washing") });
    }
    if let Some(set) = get::<PerLength>(entry, "twist_set") {
        let counted = entry.values("twist").iter().filter_map(|f| f.si).map(Q::si);
        s.twists.extend(counted.map(|counted| TwistTest { bobbin, set, counted }));
    }
    let gauge = get(entry, "gauge").unwrap_or(USUAL_GAUGE);
    let loads = entry.values("break_load").iter().filter_map(|f| f.si).map(Q::si);
    s.breaks.extend(loads.map(|load| BreakTest { bobbin, load, gauge }));
}

fn bobbin(s: &mut Samples, entry: &Entry) {
    let name = number(entry, "bobbin");
    let Some(mass) = get::<Mass>(entry, "mass") else { return };
    s.spun = Some(s.spun.map_or(mass, |sum| sum + mass));
    match entry.typed("use") {
        Some("warp") => drop(s.put_to.insert(name, Use::Warp)),
        Some("weft") => drop(s.put_to.insert(name, Use::Weft)),
        _ => drop(s.put_to.remove(&name)),
    }
    let counted = get::<Length>(entry, "counted");
    let check = get::<Mass>(entry, "check_mass").zip(get::<Length>(entry, "check_length"));
    if let Some((mass, length)) = check {
        s.skeins.push(Skein { bobbin: name, mass, counted: length, washed: None });
    }
    let by_check = check.map(|(m, l)| m.to_si() / l.to_si());
    let Some(count) = by_check.or(counted.map(|l| mass.to_si() / l.to_si())) else { return };
    let count: Q<LinearDensity> = Q::si(count);
    let length = counted.unwrap_or(Q::si(mass.to_si() / count.to_si()));
    s.bobbins.push(Bobbin { name, count, length });
}

fn warp(entry: &Entry) -> Option<WarpOn> {
    Some(WarpOn { ends: entry.si("threads")?, length: get(entry, "wound")?, in_reed: get(entry, "in_reed") })
}

/// Weft made ready adds to what is there.
fn weft(s: &mut Samples, entry: &Entry) {
    let Some(mass) = get::<Mass>(entry, "mass") else { return };
    s.weft_left = Some(s.weft_left.map_or(mass, |left| left + mass));
    s.weighed_at = s.weighed_at.or(s.woven).or(Some(Q::si(0.0)));
}

fn woven(s: &mut Samples, entry: &Entry) {
    let Some(woven) = get::<Length>(entry, "woven") else { return };
    if let Some(left) = get::<Mass>(entry, "weft_left") {
        // Use is told only between two weighings, and only while the cloth grew.
        if let (Some(before), Some(had)) = (s.weighed_at, s.weft_left)
            && woven > before
            && had > left
        {
            s.used.push(Used { weft: had - left, woven: woven - before });
        }
        (s.weighed_at, s.weft_left) = (Some(woven), Some(left));
    }
    s.woven = Some(woven);
}

fn minutes(s: &mut Samples, entry: &Entry) {
    let (Some(step), Some(time)) = (entry.typed("step"), get(entry, "time")) else { return };
    let day = entry.happened.day();
    match s.days.last_mut() {
        Some(last) if last.day == day => last.time = last.time + time,
        _ => s.days.push(Day { day, time }),
    }
    s.last_sitting = Some(time);
    let work = s.work.entry(step.to_string()).or_default();
    work.sittings.push(time);
    work.by_length.extend(get(entry, "done_length").map(|done| Session { time, done }));
    work.by_mass.extend(get(entry, "done_mass").map(|done| Session { time, done }));
    work.by_number.extend(get(entry, "done_number").map(|done| Session { time, done }));
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
