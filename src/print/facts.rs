//! What the chain must know of artwork before anything is drawn: its shape, how much of it is ink, and its finest line and gap. Looked at in
//! some six hundred pixels across, and where something fine needs it once more in twice as many; kept for the last few pictures, since a
//! plan is decided anew at every edit. A filled sliver of less than a six-hundredth of the width may go unseen here; the sheets of the print
//! look closer and mark it.

use super::artwork::{Artwork, Edges, Picture};
use super::features;
use super::separate::{self, Separation, Wanted, Way};
use super::{Fault, separate::Ink};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

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

/// Pixels a picture is looked at in, at first and where what is fine needs a closer look.
const FIRST_LOOK: f64 = 250_000.0;
const CLOSE_LOOK: f64 = 1_000_000.0;
/// A line of so many pixels is measured to an eighth: finer ones get the closer look.
const CLEAR: f64 = 4.0;
/// Pictures whose facts are kept, and those begun.
const KEPT: usize = 4;
const BEGUN: usize = 2;

type Known<T> = (Arc<[u8]>, Ask, Result<T, Fault>);
static LAST: Mutex<Vec<Known<Facts>>> = Mutex::new(Vec::new());
static PARTED: Mutex<Vec<Known<Parted>>> = Mutex::new(Vec::new());

/// What is kept, never locked while a picture is looked at.
fn held<T>(kept: &Mutex<T>) -> MutexGuard<'_, T> {
    kept.lock().unwrap_or_else(PoisonError::into_inner)
}

fn is_of<T>(bytes: &[u8], ask: &Ask) -> impl Fn(&Known<T>) -> bool {
    move |(b, a, _)| **b == *bytes && a == ask
}

fn known(bytes: &[u8], ask: &Ask) -> Option<Result<Facts, Fault>> {
    held(&LAST).iter().find(|known| is_of(bytes, ask)(known)).map(|(.., facts)| facts.clone())
}

/// Does the first half of [`facts`], which no other core can help with: for a caller who has other work for them meanwhile.
pub fn begin(bytes: &[u8], ask: &Ask) {
    if known(bytes, ask).is_none() {
        let parted = parted(bytes, ask, FIRST_LOOK);
        let mut held = held(&PARTED);
        held.insert(0, (bytes.into(), ask.clone(), parted));
        held.truncate(BEGUN);
    }
}

/// Facts of artwork.
///
/// # Errors
/// Why the artwork cannot be read or parted, in a sentence.
pub fn facts(bytes: &[u8], ask: &Ask) -> Result<Facts, Fault> {
    if let Some(facts) = known(bytes, ask) {
        return facts;
    }
    let begun = {
        let mut held = held(&PARTED);
        held.iter().position(|known| is_of(bytes, ask)(known)).map(|at| held.remove(at).2)
    };
    let first = begun.unwrap_or_else(|| parted(bytes, ask, FIRST_LOOK));
    let found = first.and_then(|first| {
        let width = first.width;
        let facts = looked_at(first, ask);
        let finest = facts.line.into_iter().chain(facts.gap).fold(f64::INFINITY, f64::min);
        if finest * width as f64 >= CLEAR {
            return Ok(facts);
        }
        let close = parted(bytes, ask, CLOSE_LOOK)?;
        Ok(if close.width > width { looked_at(close, ask) } else { facts })
    });
    let mut held = held(&LAST);
    held.insert(0, (bytes.into(), ask.clone(), found.clone()));
    held.truncate(KEPT);
    found
}

/// A picture parted into inks.
struct Parted {
    shape: f64,
    width: usize,
    separation: Separation,
}

fn parted(bytes: &[u8], ask: &Ask, pixels: f64) -> Result<Parted, Fault> {
    let artwork = Artwork::read_with(bytes, Edges::Hard)?;
    let shape = artwork.shape();
    let width = (pixels / shape).sqrt();
    let width = artwork.own_width().map_or(width, |own| width.min(own as f64)).max(8.0) as usize;
    let height = ((width as f64 * shape).round() as usize).max(1);
    let picture: Picture = artwork.picture(width, height)?;
    let way = Way { wanted: ask.wanted(), tone: ask.tone, trap: 0.0, underbase: None };
    Ok(Parted { shape, width, separation: separate::separate(&picture, &way)? })
}

fn looked_at(parted: Parted, ask: &Ask) -> Facts {
    let Parted { shape, width, separation } = parted;
    let coverage: f64 = separation.plates.iter().map(|plate| plate.share()).sum();
    let all = separation.all();
    let share = |squares: f64| squares / width as f64;
    // shades have no edges of their own
    let (line, gap) = match ask.tone {
        true => (None, None),
        false => rayon::join(|| features::line(&separation.plates).map(share), || features::gap(&all).map(share)),
    };
    let coverage = coverage + if ask.underbase { all.share() } else { 0.0 };
    Facts { shape, coverage, line, gap, inks: separation.inks }
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
        // a hair of a quarter of a percent is no more than two pixels at first, and measured all the same
        let hair = svg.replace("V46H10Z", "V45.25H10Z");
        let line = facts(hair.as_bytes(), &ask).expect("sound").line.expect("a line");
        assert!((line - 0.0025).abs() < 0.0005, "{line}");
        assert_eq!(facts(svg.as_bytes(), &ask), Ok(found));
        assert!(facts(b"no picture", &ask).is_err());
    }
}
