//! The body to draft for: what was measured, checked for slips, and a usual size for the rest. Millimetres. Every stand-in
//! is kept with its reason, so that the person knows what to measure.

use super::fault::Fault;
use super::piece::Reason;
use super::wish::Body;
use super::words::Say;
use crate::trade::body::{self, Group, Part};
use crate::units::MM;
use std::collections::BTreeMap;

/// A whole body, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    values: BTreeMap<Part, f64>,
    measured: Vec<Part>,
}

/// Girths that go with the girth of the chest; the other measurements are taken from the middle of the table.
const WITH_CHEST: [Part; 6] =
    [Part::Neck, Part::NeckBase, Part::Waist, Part::Hip, Part::UpperArm, Part::ShoulderBreadth];

/// A chest beyond this score of the table says nothing more about the other girths.
const FAR: f64 = 2.5;

impl Figure {
    /// The body of a wish, or every slip found in it.
    pub fn of(body: &Body) -> Result<Figure, Vec<Fault>> {
        let faults = slips(body);
        if !faults.is_empty() {
            return Err(faults);
        }
        let groups: &[Group] = match &body.like {
            Some(group) => std::slice::from_ref(group),
            None => &Group::ALL,
        };
        let usual = |part: Part| {
            let sum: f64 = groups.iter().map(|&group| stand_in(body, part, group)).sum();
            sum / groups.len() as f64
        };
        let known = |part: Part| body.measured.get(&part).map(|q| q.get(&MM));
        let values = Part::ALL.into_iter().map(|part| (part, known(part).unwrap_or_else(|| usual(part)))).collect();
        Ok(Figure { values, measured: body.measured.keys().copied().collect() })
    }

    /// A measurement, mm.
    pub fn get(&self, part: Part) -> f64 {
        self.values.get(&part).copied().unwrap_or(0.0)
    }
    /// Whether the tape said so.
    pub fn measured(&self, part: Part) -> bool {
        self.measured.contains(&part)
    }
    /// Reasons for those of `parts` that were not measured.
    pub fn stand_ins(&self, parts: &[Part], say: Say) -> Vec<Reason> {
        let missing = parts.iter().filter(|&&part| !self.measured(part));
        missing
            .map(|&part| {
                let described = part.describe();
                Reason {
                    about: format!("garment.body.{}", described.key),
                    text: format!(
                        "{} not measured: {} taken from a table of usual sizes. Measure it. {}",
                        capital(described.name),
                        say.length(self.get(part)),
                        described.how
                    ),
                    source: body::SOURCE,
                }
            })
            .collect()
    }
}

fn stand_in(body: &Body, part: Part, group: Group) -> f64 {
    let chest = body.measured.get(&Part::Chest);
    let score = match (body.percentile, chest) {
        (Some(percentile), _) => body::score_of(percentile),
        (None, Some(&chest)) if WITH_CHEST.contains(&part) => body::score(Part::Chest, group, chest).clamp(-FAR, FAR),
        _ => 0.0,
    };
    body::at_score(part, group, score).get(&MM)
}

/// First letter large.
pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// Pairs of which the first is never as great as this share of the second.
const NEVER: [(Part, Part, f64); 8] = [
    (Part::NeckBase, Part::Chest, 0.75),
    (Part::Neck, Part::Chest, 0.75),
    (Part::UpperArm, Part::Chest, 0.75),
    (Part::ShoulderBreadth, Part::Chest, 0.75),
    (Part::Wrist, Part::UpperArm, 1.0),
    (Part::BackWaist, Part::Stature, 0.45),
    (Part::ArmLength, Part::Stature, 0.6),
    (Part::NapeHeight, Part::Stature, 1.0),
];

/// Every measurement that cannot be a person's.
fn slips(body: &Body) -> Vec<Fault> {
    let mut faults = Vec::new();
    if body.percentile.is_some_and(|p| !(p > 0.0 && p < 100.0)) {
        faults.push(Fault::new("bad-percentile", &["garment.body.start"], "a percentile lies between 0 and 100"));
    }
    let believable = |part: Part| {
        let (low, high) = part.describe().bounds;
        body.measured.get(&part).map(|q| q.get(&MM)).filter(|mm| (low..=high).contains(mm))
    };
    for (&part, &length) in &body.measured {
        let described = part.describe();
        let (mm, (low, high)) = (length.get(&MM), described.bounds);
        if believable(part).is_none() {
            let text = format!(
                "{} {:.1} cm is not a person's: between {:.0} and {:.0} cm is",
                described.name,
                mm / 10.0,
                low / 10.0,
                high / 10.0
            );
            faults.push(Fault::new("impossible-body", &[&key(part)], text));
        }
    }
    for (small, great, share) in NEVER {
        if let (Some(a), Some(b)) = (believable(small), believable(great))
            && a >= share * b
        {
            let text = format!(
                "{} {:.1} cm does not go with {} {:.1} cm: one of the two is wrong",
                small.describe().name,
                a / 10.0,
                great.describe().name,
                b / 10.0
            );
            faults.push(Fault::new("impossible-body", &[&key(small), &key(great)], text));
        }
    }
    faults
}

fn key(part: Part) -> String {
    format!("garment.body.{}", part.describe().key)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Q;

    #[test]
    fn the_middle_is_the_middle_and_measured_stays() {
        let figure = Figure::of(&Body::usual(Group::Women, 50.0).with(Part::Head, 570.0)).unwrap();
        assert!((figure.get(Part::Chest) - 940.0).abs() < 1e-6);
        assert!(figure.get(Part::Head) == 570.0 && figure.measured(Part::Head));
        let reasons = figure.stand_ins(&[Part::Head, Part::Hip], Say { inches: false });
        assert_eq!(reasons.len(), 1);
        assert!(reasons[0].text.contains("101.8 cm"), "{}", reasons[0].text);
    }

    #[test]
    fn a_large_chest_brings_a_large_arm_but_not_a_large_head() {
        let figure = |chest: f64| Figure::of(&Body::default().with(Part::Chest, chest)).unwrap();
        let (small, large) = (figure(900.0), figure(1200.0));
        assert!(large.get(Part::UpperArm) > small.get(Part::UpperArm) + 60.0);
        assert_eq!(large.get(Part::Head), small.get(Part::Head));
    }

    #[test]
    fn impossible_bodies_are_all_named_at_once() {
        let mut body = Body::default().with(Part::Chest, 98.0).with(Part::Head, 5700.0).with(Part::Hip, f64::NAN);
        body.measured.insert(Part::Neck, Q::si(f64::INFINITY));
        assert_eq!(Figure::of(&body).unwrap_err().len(), 4);
        let swapped = Body::default().with(Part::Stature, 1600.0).with(Part::NapeHeight, 1700.0);
        assert_eq!(Figure::of(&swapped).unwrap_err()[0].keys.len(), 2);
    }
}
