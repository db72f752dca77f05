//! The print of a plan: films, stencils or blocks, how to print, the preview, the placing and the test strip.

use super::cloth::{State, facts, look};
use super::export::{Named, Options};
use crate::chain::keys as id;
use crate::chain::prints::Prints;
use crate::draw::film::{self, Bits, Film};
use crate::draw::pdf;
use crate::draw::picture::ClothLook;
use crate::draw::sheet::{Line, Point, Rect, Sheet};
use crate::draw::sheets::film::{Cutting, STEPS, Words, cutting, laid, with_shapes};
use crate::draw::sheets::placement::{self, Placed};
use crate::draw::sheets::{preview, screen, teststrip};
use crate::garment::Piece;
use crate::outlook::Outcome;
use crate::print::Method;
use crate::print::dots::{Form, Tone};
use crate::print::outline;
use crate::print::plate::Plate;
use crate::units::Q;
use kurbo::{Affine, BezPath};

/// The print worked up, or why there is none.
fn prints(outcome: &Outcome) -> Result<&Prints, String> {
    match outcome.prints() {
        None => Err("This plan prints nothing; give it `print.artwork` and `print.width`.".into()),
        Some(Err(why)) => Err(format!("The artwork cannot be printed: {why}.")),
        Some(Ok(prints)) => Ok(prints),
    }
}

/// Why a plan has no drawings of a print.
pub(super) fn reason_against(outcome: &Outcome) -> Option<String> {
    let plan = &outcome.brief.plan;
    let missing = crate::chain::decide::print::artwork(plan).is_none();
    missing.then(|| "This plan prints nothing; give it `print.artwork` and `print.width`.".into())
}

/// The cloth's colour: of its warp and weft together.
fn cloth_colour(look: &ClothLook) -> [u8; 3] {
    let of = |order: &crate::weave::ColourOrder| look.colours[order.at(0)];
    let (warp, weft) = (of(&look.warp_order), of(&look.weft_order));
    [0, 1, 2].map(|i| ((u16::from(warp[i]) + u16::from(weft[i])) / 2) as u8)
}

/// Millimetres of a square of the outlines that sheets are drawn with.
const OUTLINE: f64 = 0.15;

/// How to print it, and a sheet for each ink: the film, or what a stencil or block is cut by.
pub(super) fn films(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    films_as(outcome, None)
}

/// The same with the films' pictures as lines, for a cutter.
pub(super) fn films_as_lines(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let prints = prints(outcome)?;
    if prints.tone != Tone::Solid {
        return Err("A film of dots has no outline to cut; write it as PDF.".into());
    }
    let mut sheets = films_as(outcome, Some(Line::Cut))?;
    // a page of words is nothing to a cutter
    sheets.remove(0);
    Ok(sheets)
}

fn films_as(outcome: &Outcome, line: Option<Line>) -> Result<Vec<Sheet>, String> {
    let prints = prints(outcome)?;
    let mut sheets = vec![how(outcome, prints)?];
    let sized = screen::sized(prints, outcome.brief.style);
    for at in 0..prints.inks().len() {
        sheets.push(match prints.method {
            Method::Screen => {
                let path = shapes(prints, at);
                with_shapes(laid(&words(outcome, prints, at, &sized)), path, line)
            }
            Method::Stencil => stencil(outcome, prints, at, &sized)?,
            Method::Block => block(outcome, prints, at, &sized),
        });
    }
    Ok(sheets)
}

fn how(outcome: &Outcome, prints: &Prints) -> Result<Sheet, String> {
    let look = look(outcome, State::Washed, Options::default().seed)?;
    Ok(screen::sheet(prints, cloth_colour(&look), outcome.brief.style))
}

fn words<'a>(outcome: &'a Outcome, prints: &'a Prints, at: usize, sized: &'a str) -> Words<'a> {
    Words {
        title: &outcome.brief.title,
        ink: &prints.inks()[at].name,
        number: at + 1,
        of: prints.inks().len(),
        size: prints.size,
        sized,
        mesh: prints.mesh,
        tone: prints.tone,
        style: outcome.brief.style,
    }
}

/// Outlines of one ink, mm of the picture.
fn shapes(prints: &Prints, at: usize) -> BezPath {
    let plate = &prints.parted.plates[at];
    let fewer = ((prints.pixel / OUTLINE) * plate.width as f64).round() as usize;
    if fewer >= plate.width {
        return outline::path(plate, prints.pixel);
    }
    let pixel = prints.pixel * plate.width as f64 / fewer as f64;
    outline::path(&plate.reduced(fewer, (plate.height * fewer / plate.width).max(1)), pixel)
}

fn stencil(outcome: &Outcome, prints: &Prints, at: usize, sized: &str) -> Result<Sheet, String> {
    let why = |fault: crate::print::Fault| format!("The stencil cannot be made: {fault}.");
    let (made, pixel) = prints.stencil(at).map_err(why)?;
    // the frame round the picture was put on in squares
    let picture = (prints.size.0 / pixel).round();
    let frame = (made.cut.width as f64 - picture) / 2.0 * pixel;
    let corner = Point::new(-frame, -frame);
    let place = |p: Point| Point::new(p.x * pixel - frame, p.y * pixel - frame);
    let mut notes = vec![match made.islands {
        0 => "Nothing in this stencil is loose: it needs no bridges.".to_string(),
        n => format!("{n} parts would fall out; {} bridges of {:.1} mm hold them.", made.bridges.len(), prints.wall),
    }];
    if made.webs > 0 {
        notes.push(format!("Webs thinner than {:.1} mm would not stand and are cut away.", prints.wall));
    }
    notes.push(
        "Card, oiled card or 0.2 mm film. Cut inner parts first. Dab the bridges' places shut by hand afterwards."
            .into(),
    );
    Ok(cutting(&Cutting {
        words: words(outcome, prints, at, sized),
        outline: outline::path(&made.cut.softened(), pixel),
        at: corner,
        block: false,
        bridges: made.bridges.iter().map(|b| (place(b.from), place(b.to))).collect(),
        wall: prints.wall,
        notes,
    }))
}

fn block(outcome: &Outcome, prints: &Prints, at: usize, sized: &str) -> Sheet {
    let mirror = Affine::translate((prints.size.0, 0.0)) * Affine::scale_non_uniform(-1.0, 1.0);
    let notes = vec![
        format!("No line under {:.1} mm and no wall under {:.1} mm stands for long.", prints.line.max(prints.wall), prints.wall),
        "Depth: 2 mm beside the lines, 3 mm where the hollow is wider than 5 mm, 5 mm or sawn away where it is wider than 20 mm (common \
         practice): cloth sinks into a wide hollow and takes ink from its floor."
            .into(),
        "Let the sides slope outwards a little, never under the line.".into(),
    ];
    cutting(&Cutting {
        words: words(outcome, prints, at, sized),
        outline: mirror * shapes(prints, at),
        at: Point::ZERO,
        block: true,
        bridges: Vec::new(),
        wall: prints.wall,
        notes,
    })
}

/// Films with one bit a dot, and how to print; for stencils and blocks the sheets as they are.
pub(super) fn film_files(outcome: &Outcome, options: &Options) -> Result<Option<Vec<Named>>, String> {
    let prints = prints(outcome)?;
    if prints.method != Method::Screen {
        return Ok(None);
    }
    let refused = |why: crate::draw::refused::Refused| format!("The drawing `film` cannot be written: {why}.");
    let paper = options.paper.map(|paper| (paper, super::export::OVERLAP));
    let bytes = films_pdf(outcome, prints, FILM_DOTS, paper)?;
    let how = pdf::single(&how(outcome, prints)?).map_err(refused)?;
    let named = |name: &str, bytes| Named { file_name: name.into(), bytes };
    Ok(Some(vec![named("film.pdf", bytes), named("film-how.pdf", how)]))
}

/// Dots an inch of a film.
pub const FILM_DOTS: f64 = 1200.0;
/// Finest square a film's plate is parted in, and most of them: edges between squares are drawn finer than these.
const FINEST: f64 = 0.07;
const MOST_SQUARES: f64 = 20e6;

/// All films in one document.
fn films_pdf(
    outcome: &Outcome,
    prints: &Prints,
    dpi: f64,
    paper: Option<(crate::draw::title::Paper, f64)>,
) -> Result<Vec<u8>, String> {
    let sized = screen::sized(prints, outcome.brief.style);
    let pixel = FINEST.max((prints.size.0 * prints.size.1 / MOST_SQUARES).sqrt());
    // squares that fill the picture exactly across
    let pixel = prints.size.0 / (prints.size.0 / pixel).round().max(1.0);
    let parted = prints.parted_at(pixel).map_err(|why| format!("The artwork cannot be printed: {why}."))?;
    let steps = wedge();
    let wedge_tone = match prints.tone {
        Tone::Solid => usual_dots(prints),
        tone => tone,
    };
    let mut films = Vec::new();
    for (at, plate) in parted.plates.iter().enumerate() {
        let made = laid(&words(outcome, prints, at, &sized));
        let bits = vec![
            Bits { plate, pixel, tone: prints.tone, at: made.picture },
            Bits { plate: &steps, pixel: made.wedge.width() / steps.width as f64, tone: wedge_tone, at: made.wedge },
        ];
        films.push(Film { sheet: made.sheet, bits, dpi });
    }
    film::pdf(&films, paper).map_err(|why| format!("The drawing `film` cannot be written: {why}."))
}

/// Dots of the wedge on a film of flat areas: what the mesh carries.
fn usual_dots(prints: &Prints) -> Tone {
    let count = prints.mesh.map_or(40.0, |mesh| mesh.count);
    Tone::Rows { ruling: count / crate::print::mesh::THREADS_PER_ROW / 10.0, angle: 22.5, form: Form::Round }
}

/// The step wedge: nothing to full in even steps.
pub(super) fn wedge() -> Plate {
    const SIDE: usize = 36;
    let step = |i: usize| (255 * (i % (STEPS * SIDE) / SIDE) / (STEPS - 1)) as u8;
    Plate { width: STEPS * SIDE, height: SIDE, cover: (0..STEPS * SIDE * SIDE).map(step).collect() }
}

/// The print on this cloth.
pub(super) fn preview(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let prints = prints(outcome)?;
    let seed = Options::default().seed;
    let worn = look(outcome, State::Washed, seed)?;
    let before = if prints.before_wash { look(outcome, State::OffLoom, seed)? } else { worn.clone() };
    let facts = facts(outcome);
    let seen = preview::Seen { prints, before: &before, worn: &worn, facts: &facts, style: outcome.brief.style };
    Ok(vec![preview::sheet(&seen).map_err(|unseen| format!("The print cannot be shown: {unseen}."))?])
}

/// The test strip.
pub(super) fn teststrip(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    Ok(vec![teststrip::sheet(prints(outcome)?, outcome.brief.style)])
}

/// The print on its piece, and the template.
pub(super) fn placement(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let prints = prints(outcome)?;
    let width = outcome.get(&id::LAY_WIDTH).unwrap_or(Q::si(0.0));
    let laid = outcome.brief.article.on(width).ok_or("No width of cloth holds the pieces of this plan.")?;
    let piece: Option<&Piece> = laid.garment.pieces.iter().find(|piece| piece.print.is_some());
    let Some((piece, print)) = piece.and_then(|piece| Some((piece, piece.print?))) else {
        let named = outcome.brief.plan.text("print.place.piece").unwrap_or("front");
        return Err(format!("No whole piece `{named}` takes the print: it may have been split at the cloth's width."));
    };
    // drafted as worn; printed a little larger about the same middle and the same top
    let (middle, top) = (print.area.center().x, print.area.y0);
    let area = Rect::new(middle - prints.size.0 / 2.0, top, middle + prints.size.0 / 2.0, top + prints.size.1);
    let few = |plate: &Plate| {
        let width = (prints.size.0 / 0.4).min(plate.width as f64).round().max(8.0) as usize;
        let plate = plate.reduced(width, (plate.height * width / plate.width).max(1));
        outline::path(&plate, prints.size.0 / plate.width as f64)
    };
    let plates = prints.parted.plates.iter().zip(prints.inks());
    let inks: Vec<(BezPath, [u8; 3])> = plates.map(|(plate, ink)| (few(plate), ink.rgb)).collect();
    let sized = screen::sized(prints, outcome.brief.style);
    let cloth = cloth_colour(&look(outcome, State::Washed, Options::default().seed)?);
    let (below, clear, style) = (print.below, print.clear, outcome.brief.style);
    let placed = Placed { piece, area, below, clear, inks: &inks, cloth, sized: &sized, style };
    Ok(vec![placement::on_piece(&placed), placement::template(&placed)])
}
