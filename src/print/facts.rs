//! What the chain must know of artwork before anything is drawn: its shape, how much of it is ink, and its finest line and gap. Read at
//! about a thousand pixels and kept for the last few pictures, since a plan is decided anew at every edit.

use super::artwork::{Artwork, Picture};
use super::features;
use super::plate::Plate;
use super::separate::{self, Separation, Wanted, Way};
use super::{Fault, separate::Ink};
use rayon::prelude::*;
use std::sync::{Arc, Mutex, PoisonError};

/// Facts of a picture; lengths are shares of its width.
#[derive(Clone, Debug, PartialEq)]
pub struct Facts {
    /// Height over width.
    pub shape: f64,
    /// Ink of all plates over the picture's area; above 1 where inks lie on each other.
    pub coverage: f64,
    /// Thinnest line of any ink.
    pub line: Option<f64>,
    /// Thinnest gap between any ink and the next.
    pub gap: Option<f64>,
    /// Inks, first printed first.
    pub inks: Vec<Ink>,
}

/// What is asked of a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Ask {
    pub inks: Vec<Ink>,
    /// How many inks, where none are named.
    pub number: Option<usize>,
    /// Shades become dots.
    pub tone: bool,
    /// White is laid below.
    pub underbase: bool,
}

impl Ask {
    /// Which inks.
    pub fn wanted(&self) -> Wanted<'_> {
        match (self.inks.is_empty(), self.number) {
            (false, _) => Wanted::Inks(&self.inks),
            (true, Some(number)) => Wanted::Number(number),
            (true, None) => Wanted::ByColours,
        }
    }
}

/// Pixels a picture is looked at in.
const LOOKED_AT: f64 = 500_000.0;
/// Pictures kept.
const KEPT: usize = 4;

type Known = (Arc<[u8]>, Ask, Result<Facts, Fault>);

/// Facts of artwork.
///
/// # Errors
/// Why the artwork cannot be read or parted, in a sentence.
pub fn facts(bytes: &[u8], ask: &Ask) -> Result<Facts, Fault> {
    static LAST: Mutex<Vec<Known>> = Mutex::new(Vec::new());
    let held = || LAST.lock().unwrap_or_else(PoisonError::into_inner);
    let known = held().iter().find(|(b, a, _)| **b == *bytes && a == ask).map(|(.., facts)| facts.clone());
    if let Some(facts) = known {
        return facts;
    }
    let found = looked_at(bytes, ask);
    let mut held = held();
    held.insert(0, (bytes.into(), ask.clone(), found.clone()));
    held.truncate(KEPT);
    found
}

fn looked_at(bytes: &[u8], ask: &Ask) -> Result<Facts, Fault> {
    let artwork = Artwork::read(bytes)?;
    let shape = artwork.shape();
    let width = (LOOKED_AT / shape).sqrt();
    let width = artwork.own_width().map_or(width, |own| width.min(own as f64)).max(8.0) as usize;
    let height = ((width as f64 * shape).round() as usize).max(1);
    let picture: Picture = artwork.picture(width, height)?;
    let way = Way { wanted: ask.wanted(), tone: ask.tone, trap: 0.0, underbase: None };
    let Separation { inks, plates } = separate::separate(&picture, &way)?;
    let coverage: f64 = plates.iter().map(|plate| plate.share()).sum();
    let all = Separation { inks: inks.clone(), plates };
    let share = |squares: f64| squares / width as f64;
    let thinnest = |plates: &[Plate]| plates.par_iter().filter_map(features::line).min_by(f64::total_cmp).map(share);
    // shades have no edges of their own
    let (line, gap) = match ask.tone {
        true => (None, None),
        false => rayon::join(|| thinnest(&all.plates), || features::gap(&all.all()).map(share)),
    };
    Ok(Facts { shape, coverage: coverage + if ask.underbase { all.all().share() } else { 0.0 }, line, gap, inks })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_with_a_slit_is_known() {
        let svg = "<svg xmlns='http://www.w3.org/2000/svg' width='100' height='50'><path fill='#203040' \
                   d='M10 10H40V40H10ZM42 10H90V40H42ZM10 45H90V46H10Z'/></svg>";
        let ask = Ask { inks: Vec::new(), number: None, tone: false, underbase: false };
        let found = facts(svg.as_bytes(), &ask).expect("sound");
        assert!((found.shape - 0.5).abs() < 1e-6);
        assert!((found.coverage - (900.0 + 1440.0 + 80.0) / 5000.0).abs() < 0.004, "{}", found.coverage);
        assert!((found.line.expect("a line") - 0.01).abs() < 0.0012, "{:?}", found.line);
        assert!((found.gap.expect("a gap") - 0.02).abs() < 0.0012, "{:?}", found.gap);
        assert_eq!(found.inks.len(), 1);
        assert_eq!(facts(svg.as_bytes(), &ask), Ok(found));
        assert!(facts(b"no picture", &ask).is_err());
    }
}
