//! The print of a run as things: artwork parted into plates at the size it is printed, what in it is too fine for this cloth, the dots'
//! ruling and angle against mesh and cloth, and what beats. Made on first use, once a plan, never in a trial. Millimetres.

use super::decide::print::{artwork, ask};
use super::given::Given;
use super::keys as id;
use super::mode::Numbers;
use crate::formulas::registry::Key;
use crate::plan::Plan;
use crate::print::artwork::Artwork;
use crate::print::beat::{self, Beat, Lattice};
use crate::print::dots::{Form, Tone};
use crate::print::facts::Ask;
use crate::print::features::{self, Spot};
use crate::print::mesh::{self, Mesh};
use crate::print::separate::{self, Ink, Separation, Way};
use crate::print::stencil::{self, Stencil};
use crate::print::{Fault, Method};
use crate::units::*;

/// A print worked up.
pub struct Prints {
    pub artwork: Artwork,
    ask: Ask,
    pub method: Method,
    /// Printed before the cloth's wash.
    pub before_wash: bool,
    /// Width and height as printed: on film, stencil or block.
    pub size: (f64, f64),
    /// Width and height as worn.
    pub worn: (f64, f64),
    /// What cloth and tool hold: finest line, gap and dot.
    pub line: f64,
    pub gap: f64,
    pub dot: f64,
    /// How far ink spreads past an edge.
    pub gain: f64,
    /// Width of bridges and walls of a stencil or block.
    pub wall: f64,
    pub trap: f64,
    pub tone: Tone,
    pub mesh: Option<Mesh>,
    /// Ink laid, cm³/m² in theory, and what the cloth takes of it over theory.
    pub laid: f64,
    pub take: f64,
    /// Mass of ink a cubic centimetre.
    pub density: f64,
    pub how_many: f64,
    /// The mesh and the cloth's threads where they beat: with the dots and with each other, the strongest first.
    pub beats: Vec<Beat>,
    /// Inks with their plates at [`Prints::pixel`]: fine enough to look at and to measure, not to print from.
    pub parted: Separation,
    pub pixel: f64,
    /// Places too fine, on each ink and between inks, the largest first.
    pub places: Vec<Place>,
    /// Width as worn at which lines and gaps hold.
    pub works_at: Option<f64>,
}

/// A place that will not print whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Which ink; none for a gap.
    pub ink: Option<usize>,
    /// Left, top, right, bottom in mm as printed.
    pub bounds: [f64; 4],
    /// Its own width.
    pub width: f64,
    /// It is the end of something that tapers: it is shortened, not lost.
    pub is_tip: bool,
}

/// Squares across the finest line when a picture is looked through, and most squares in all.
const SQUARES: f64 = 12.0;
const MOST_LOOKED: f64 = 3e6;
/// Trap where none is stated, mm: what hands miss when they lay film on film (common practice, no source).
const TRAP: f64 = 0.4;
/// How much of the screen's threads shows in the print: ink flows together behind them (common practice, no source).
const MESH_SHOWS: f64 = 0.3;
/// How far white below is drawn back from the edges, mm (common practice, no source).
pub const BACK: f64 = 0.4;

/// Works the print up; none where the plan has none.
pub fn work_up(plan: &Plan, given: &Given, numbers: &Numbers) -> Option<Result<Prints, Fault>> {
    let bytes = artwork(plan)?;
    Some(made(plan, given, numbers, bytes))
}

fn made(plan: &Plan, given: &Given, numbers: &Numbers, bytes: &[u8]) -> Result<Prints, Fault> {
    let artwork = Artwork::read(bytes)?;
    let mm = |key: &Key<Length>| {
        let value = numbers.get(key).map(|length| length.get(&MM)).filter(|mm| *mm > 0.0);
        value.ok_or_else(|| Fault(format!("this plan has no `{}`", key.name)))
    };
    let size = (mm(&id::FILM_WIDTH)?, mm(&id::FILM_HEIGHT)?);
    let worn = (mm(&id::PRINT_WIDTH)?, mm(&id::PRINT_HEIGHT)?);
    let (line, gap, dot) = (mm(&id::SMALLEST_LINE)?, mm(&id::SMALLEST_GAP)?, mm(&id::SMALLEST_DOT)?);
    let ratio = |key: &Key<Ratio>| given.get(key).map_or(1.0, Q::to_si);
    let method = given.choices.print_method;
    let count = given.get(&id::MESH).zip(given.get(&id::MESH_THREAD));
    let mesh = count.filter(|_| method == Method::Screen);
    let mesh = mesh.map(|(count, thread)| Mesh { count: count.get(&PER_CM), thread: thread.get(&UM) });
    let cloth = cloth(given, numbers);
    let (tone, beats) = tone(plan, mesh, cloth, dot);
    let pixel = (line / SQUARES).max((size.0 * size.1 / MOST_LOOKED).sqrt());
    let laid = numbers.get(&id::INK_VOLUME).or(given.get(&id::INK_LAID)).map_or(0.0, |v: Q<AreaVolume>| v.get(&CM3_M2));
    let mut prints = Prints {
        artwork,
        ask: ask(plan),
        method,
        before_wash: given.choices.print_before_wash,
        size,
        worn,
        line,
        gap,
        dot,
        gain: given.get(&id::INK_GAIN).map_or(0.0, |gain| gain.get(&MM)),
        wall: given.get(&id::GAP_OF_TOOL).map_or(gap, |wall| wall.get(&MM)),
        trap: plan.quantity::<Length>("print.trap").map_or(TRAP, |trap| trap.middle.get(&MM)),
        tone,
        mesh,
        laid,
        take: ratio(&id::CLOTH_TAKE),
        density: given.get(&id::INK_DENSITY).map_or(1.1, |d| d.get(&G_CM3)),
        how_many: given.get(&id::HOW_MANY).map_or(1.0, Q::to_si),
        beats,
        parted: Separation { inks: Vec::new(), plates: Vec::new() },
        pixel,
        places: Vec::new(),
        works_at: works_at(given, line, gap),
    };
    prints.parted = prints.parted_at(pixel)?;
    if tone == Tone::Solid {
        prints.places = prints.too_fine();
    }
    Ok(prints)
}

/// The cloth's own lattice as it is printed on: ends across, picks up.
fn cloth(given: &Given, numbers: &Numbers) -> Option<Lattice> {
    let (ends, picks) = if given.choices.print_before_wash {
        (&id::SETT_OFF_LOOM, &id::PICKS_OFF_LOOM)
    } else {
        (&id::SETT_FINISHED, &id::PICKS_FINISHED)
    };
    let per_mm = |key: &Key<PerLength>| numbers.get(key).map(|sett| sett.get(&PER_CM) / 10.0);
    Some(Lattice::turned("the cloth's threads", [per_mm(ends)?, per_mm(picks)?], 0.0))
}

/// The dots as stated or decided, and what beats: dots with mesh and cloth, mesh with cloth.
fn tone(plan: &Plan, mesh: Option<Mesh>, cloth: Option<Lattice>, dot: f64) -> (Tone, Vec<Beat>) {
    let screen =
        mesh.map(|mesh| Lattice::turned("the screen's threads", [mesh.count / 10.0; 2], 0.0).showing(MESH_SHOWS));
    let others: Vec<Lattice> = screen.into_iter().chain(cloth).collect();
    let count = mesh.map_or(mesh::STOCK[1].count, |mesh| mesh.count);
    let ruling = plan.quantity::<PerLength>("print.ruling").map(|stated| stated.middle.get(&PER_CM));
    let ruling = ruling.unwrap_or_else(|| mesh::ruling(count, dot)) / 10.0;
    let angle = plan.quantity::<Angle>("print.angle").map(|stated| stated.middle.get(&DEG));
    let angle = angle.unwrap_or_else(|| beat::angle(ruling, &others).0);
    let rows = |form| Tone::Rows { ruling, angle, form };
    let tone = match plan.choice("print.tone") {
        Some("dots") => rows(Form::Round),
        Some("ellipses") => rows(Form::Ellipse),
        Some("scattered") => Tone::Scattered { grain: dot },
        _ => Tone::Solid,
    };
    let mut lattices = others;
    if let Tone::Rows { .. } = tone {
        lattices.push(Lattice::turned("the dots", [ruling; 2], angle));
    }
    let mut found = Vec::new();
    for (at, a) in lattices.iter().enumerate() {
        found.extend(lattices[at + 1..].iter().filter_map(|b| beat::beats(a, b).first().copied()));
    }
    found.sort_by(|a, b| b.strength.total_cmp(&a.strength));
    (tone, found)
}

/// The width as worn at which the artwork's finest line and gap reach the limits.
fn works_at(given: &Given, line: f64, gap: f64) -> Option<f64> {
    let at = |key: &Key<Ratio>, limit: f64| {
        given.get(key).filter(|share| share.to_si() > 0.0).map(|share| limit / share.to_si())
    };
    at(&id::PRINT_DETAIL, line).into_iter().chain(at(&id::PRINT_GAP_DETAIL, gap)).max_by(f64::total_cmp)
}

impl Prints {
    /// Inks and plates in squares of `pixel` mm, at the size that is printed.
    ///
    /// # Errors
    /// What painting and parting refuse.
    pub fn parted_at(&self, pixel: f64) -> Result<Separation, Fault> {
        let squares = |mm: f64| ((mm / pixel).round() as usize).max(1);
        let picture = self.artwork.picture(squares(self.size.0), squares(self.size.1))?;
        let way = Way {
            wanted: self.ask.wanted(),
            tone: self.ask.tone,
            trap: if self.method == Method::Screen { self.trap / pixel } else { 0.0 },
            underbase: self.ask.underbase.then_some(BACK / pixel),
        };
        separate::separate(&picture, &way)
    }

    /// Ink of one plate for one pull, grams, in theory and with what cloth and screen take.
    pub fn ink(&self, plate: usize) -> (f64, f64) {
        let area = self.size.0 * self.size.1 * 1e-6;
        let share = self.parted.plates.get(plate).map_or(0.0, |plate| plate.share());
        let theory = self.laid * area * share * self.density;
        (theory, theory * self.take)
    }

    /// Places too fine on any plate, and gaps too narrow between inks.
    fn too_fine(&self) -> Vec<Place> {
        let squares = |mm: f64| mm / self.pixel;
        let bounds = |b: [usize; 4], frame: usize| b.map(|v| (v as f64 - frame as f64) * self.pixel);
        let mut found = Vec::new();
        for (ink, plate) in self.parted.plates.iter().enumerate() {
            let spots = features::too_fine(&plate.mask(), plate.width, plate.height, squares(self.line)).spots;
            let place = |s: Spot| Place {
                ink: Some(ink),
                bounds: bounds(s.bounds, 0),
                width: s.width * self.pixel,
                is_tip: s.is_tip,
            };
            found.extend(spots.into_iter().map(place));
        }
        let all = self.parted.all();
        let frame = squares(self.gap).ceil() as usize + 2;
        let framed = all.framed(frame);
        let open: Vec<bool> = framed.mask().iter().map(|ink| !ink).collect();
        let spots = features::too_fine(&open, framed.width, framed.height, squares(self.gap)).spots;
        let place = |s: Spot| Place {
            ink: None,
            bounds: bounds(s.bounds, frame),
            width: s.width * self.pixel,
            is_tip: s.is_tip,
        };
        found.extend(spots.into_iter().map(place));
        let area = |p: &Place| (p.bounds[2] - p.bounds[0]) * (p.bounds[3] - p.bounds[1]);
        found.sort_by(|a, b| a.is_tip.cmp(&b.is_tip).then(area(b).total_cmp(&area(a))));
        found
    }

    /// The stencil of one ink with its bridges, and the size of its squares in mm.
    ///
    /// # Errors
    /// More islands than bridges can hold.
    pub fn stencil(&self, plate: usize) -> Result<(Stencil, f64), Fault> {
        // a bridge of a dozen squares is smooth enough for a knife
        let pixel = (self.wall / 10.0).max((self.size.0 * self.size.1 / 2e6).sqrt());
        let parted = self.parted_at(pixel)?;
        let plate = parted.plates.get(plate).ok_or_else(|| Fault("there is no such ink".into()))?;
        let frame = (2.0 * self.wall / pixel).ceil() as usize + 2;
        let made = stencil::stencil(&plate.framed(frame), self.wall / pixel)?;
        Ok((made, pixel))
    }

    /// The inks, first printed first.
    pub fn inks(&self) -> &[Ink] {
        &self.parted.inks
    }
}
