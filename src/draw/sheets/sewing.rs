//! The sewing order: what is needed, what can hurt, then one numbered step after another with a small picture of what is sewn
//! now. [`pages`] for paper, [`long`] for a screen. Takes the steps as they are and computes nothing of the garment.

use kurbo::{Affine, Point, Rect};

use crate::draw::caution::{self, Hazard};
use crate::draw::sheet::{Anchor, Draw, Fill, Item, Line, Sheet, Type};
use crate::draw::text;
use crate::draw::title::{self, Paper};
use crate::garment::stitch::{self, Needle};
use crate::garment::{Garment, Kind, Picture, Say, Side, Step, Stripes, measures};
use crate::units::{AreaMass, G_M2, M, MM, OZ_YD2, Q, YARD};

/// Box of a step's picture.
const PICTURE: (f64, f64) = (56.0, 46.0);
/// Room between the picture and the words.
const GUTTER: f64 = 7.0;
/// Room between steps.
const APART: f64 = 7.0;
/// Lines sewn before, this step's own, and folds, as the legend shows them.
const LINES: [(Line, &str); 3] =
    [(Line::Curve, "sew now"), (Line::Detail, "sewn before"), (Line::Fold, "fold or mark")];

/// What the cloth asks of needle and thread.
#[derive(Clone, Copy, Debug)]
struct Needs {
    needle: Needle,
    mass: Option<Q<AreaMass>>,
}

/// The sewing order on pages of that paper; `mass` of the finished cloth chooses the needle.
pub fn pages(garment: &Garment, mass: Option<Q<AreaMass>>, paper: Paper) -> Vec<Sheet> {
    let mut pages = Vec::new();
    let (width, height) = paper.size();
    let floor = height - title::MARGIN - title::FOOT - 2.0;
    let mut sheet = blank(garment, width, height);
    let mut y = opening(&mut sheet, garment, mass);
    for (i, step) in garment.steps.iter().enumerate() {
        let high = step_height(step, width);
        if y + high > floor && y > 60.0 {
            pages.push(std::mem::replace(&mut sheet, blank(garment, width, height)));
            y = title::head(&mut sheet, "");
        }
        draw_step(&mut sheet, step, i + 1, y);
        y += high + APART;
    }
    pages.push(sheet);
    let count = pages.len();
    for (i, page) in pages.iter_mut().enumerate() {
        if i > 0 {
            page.name = format!("sewing-{}", i + 1);
        }
        title::foot(page, &format!("page {} of {count}", i + 1));
    }
    pages
}

/// The same as one long sheet.
pub fn long(garment: &Garment, mass: Option<Q<AreaMass>>) -> Sheet {
    let width = Paper::A4.size().0;
    let mut sheet = blank(garment, width, 100.0);
    let mut y = opening(&mut sheet, garment, mass);
    for (i, step) in garment.steps.iter().enumerate() {
        draw_step(&mut sheet, step, i + 1, y);
        y += step_height(step, width) + APART;
    }
    sheet.height = y + title::FOOT + title::MARGIN;
    title::foot(&mut sheet, "");
    sheet
}

fn blank(garment: &Garment, width: f64, height: f64) -> Sheet {
    let steps: Vec<String> = garment.steps.iter().enumerate().map(|(i, s)| format!("{} {}", i + 1, s.title)).collect();
    let describe = format!("Sewing order: {}.", steps.join(", "));
    Sheet::new("sewing", &format!("Sewing order: {}", garment.kind.word()), &describe, width, height)
}

/// Title, what is needed, what can hurt; gives the y below.
fn opening(sheet: &mut Sheet, garment: &Garment, mass: Option<Q<AreaMass>>) -> f64 {
    let worn = matches!(garment.kind, Kind::TeeShaped | Kind::TeeStraight);
    let first = match garment.kind {
        _ if worn => "Sew the paper once in cheap cloth and try it on before you cut your own. ",
        Kind::Pieces => "The pieces are your own: what is sewn to what is not known here. ",
        _ => "",
    };
    let mut y = title::head(sheet, &format!("{first}The right side is light in the pictures, the wrong side dark."));
    let needle = stitch::needle(mass.unwrap_or(Q::new(180.0, &G_M2)));
    for (name, words) in needs(garment, Needs { needle, mass }) {
        sheet.words(Type::Strong, Anchor::Start, (title::MARGIN, text::base(Type::Strong, y)), name);
        let wide = sheet.width - 2.0 * title::MARGIN - 30.0;
        y = text::paragraph(sheet, Type::Body, (title::MARGIN + 30.0, y), wide, &words);
    }
    y += 3.0;
    let mut x = title::MARGIN;
    for (line, words) in LINES {
        let base = text::base(Type::Small, y);
        sheet.line(line, (x, base - 1.0), (x + 12.0, base - 1.0));
        sheet.words(Type::Small, Anchor::Start, (x + 14.0, base), words);
        x += 18.0 + text::width(Type::Small, words) + 6.0;
    }
    y += text::leading(Type::Small) + 3.0;
    let hazards = [Hazard::Needle, Hazard::Iron];
    caution::draw(sheet, (title::MARGIN, y), sheet.width - 2.0 * title::MARGIN, &hazards) + APART
}

fn needs(garment: &Garment, needs: Needs) -> Vec<(&'static str, String)> {
    let say = Say { inches: garment.inches };
    let numbers = measures(garment);
    let (unit, name) = if garment.inches { (&YARD, "yd") } else { (&M, "m") };
    let (low, mid, high) = numbers.thread;
    let [low, mid, high] = [low, mid, high].map(|q| (q.get(unit) * f64::from(garment.how_many)).ceil());
    let why = match needs.mass {
        Some(mass) if garment.inches => format!("for cloth of {:.1} oz/yd²", mass.get(&OZ_YD2)),
        Some(mass) => format!("for cloth of {:.0} g/m²", mass.get(&G_M2)),
        None => "for shirt weights; finer for thin cloth, thicker for heavy".to_string(),
    };
    let stitch = numbers.stitch.get(&MM);
    let hems: Vec<String> = garment.hems.iter().map(|h| format!("{} {}", h.name, say.length(h.depth))).collect();
    let mut list = vec![
        ("Needle", format!("number {} ({}), sharp, {why}", needs.needle.number, needs.needle.old)),
        ("Stitch", format!("lockstitch, {stitch:.1} mm long ({:.0} to the inch)", 25.4 / stitch)),
        ("Thread", format!("{mid:.0} {name} in all, top and bobbin ({low:.0} to {high:.0})")),
    ];
    if !matches!(garment.kind, Kind::Towel | Kind::Scarf | Kind::Pieces) {
        list.push(("Seams", format!("{}, allowance {}", garment.seam_kind.word(), say.length(garment.allowance))));
    }
    list.extend(stripes(garment).map(|words| ("Stripes", words)));
    if !hems.is_empty() {
        list.push(("Hems", hems.join(", ")));
    }
    list
}

/// What is to be seen to where the stripes were laid to meet.
fn stripes(garment: &Garment) -> Option<String> {
    let meeting = garment.meeting();
    let pocket = garment.stripes != Stripes::default() && garment.piece("pocket").is_some_and(|p| p.stripes.is_some());
    let seams = (!meeting.is_empty())
        .then(|| format!("laid to meet at {}: there pin stripe on stripe before you stitch", meeting.join(", ")));
    let pocket = pocket.then(|| "those of the pocket run on into the apron's".to_string());
    let words: Vec<String> = seams.into_iter().chain(pocket).collect();
    (!words.is_empty()).then(|| words.join("; "))
}

/// Width of the words beside a picture.
fn words_wide(width: f64) -> f64 {
    width - 2.0 * title::MARGIN - PICTURE.0 - GUTTER
}

fn step_height(step: &Step, width: f64) -> f64 {
    let wide = words_wide(width);
    let caution = step.caution.as_ref().map_or(0.0, |c| text::height(Type::Body, c, wide - 8.0) + 2.0);
    let words = text::leading(Type::Heading) + 0.8 + text::height(Type::Body, &step.text, wide) + caution;
    words.max(PICTURE.1)
}

fn draw_step(sheet: &mut Sheet, step: &Step, number: usize, top: f64) {
    let x = title::MARGIN + PICTURE.0 + GUTTER;
    let wide = words_wide(sheet.width);
    let name = format!("Step {number}: {}", step.title);
    sheet.group(&format!("step-{number}"), Some(&name), Affine::IDENTITY, |g| {
        picture(g, &step.picture, Rect::new(title::MARGIN, top, title::MARGIN + PICTURE.0, top + PICTURE.1));
        g.words(Type::Heading, Anchor::Start, (x, text::base(Type::Heading, top)), format!("{number}  {}", step.title));
        let y = text::paragraph(g, Type::Body, (x, top + text::leading(Type::Heading) + 0.8), wide, &step.text);
        if let Some(words) = &step.caution {
            caution::sign(g, Point::new(x + 2.6, y + 3.6), 5.0);
            text::paragraph(g, Type::Body, (x + 8.0, y + 1.2), wide - 8.0, words);
        }
    });
}

/// A step's picture, as large as its box allows.
fn picture(draw: &mut Vec<Item>, picture: &Picture, area: Rect) {
    let Some(bounds) = picture.bounds() else { return };
    let scale = (area.width() / bounds.width().max(1.0)).min(area.height() / bounds.height().max(1.0));
    let spare = area.size() - bounds.size() * scale;
    let at = Point::new(area.x0 + 0.5 * spare.width, area.y0 + 0.5 * spare.height.min(6.0));
    let place = Affine::translate(at.to_vec2()) * Affine::scale(scale) * Affine::translate(-bounds.origin().to_vec2());
    let shown = picture.clone().placed(place);
    for part in shown.parts {
        let fill = match part.side {
            Side::Right => Fill::Part,
            Side::Wrong => Fill::OtherPart,
            Side::Lining => Fill::Paper,
        };
        draw.area(fill, Some(Line::Detail), part.path);
    }
    for path in shown.done {
        draw.path(Line::Detail, path);
    }
    for path in shown.folds {
        draw.path(Line::Fold, path);
    }
    for path in shown.now {
        draw.path(Line::Curve, path);
    }
}
