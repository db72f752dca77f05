//! The sheets of the lay: drawn for several jobs, within their margins, to scale, the pictures kept for the eye in the target
//! folder's `tmp/sheets`.
#![expect(clippy::disallowed_methods, reason = "a test writes its pictures to files")]

use crate::nest::{budget, rectangle, tee};
use clothwright::draw::sheet::{Item, Sheet};
use clothwright::draw::sheets::lay::{self, Band, Lay, Stripes};
use clothwright::draw::sheets::widths::{self, Width, Widths};
use clothwright::draw::style::Look;
use clothwright::draw::title::{MARGIN, Paper};
use clothwright::draw::{extent, png};
use clothwright::geom;
use clothwright::nest::{self, Job, Layout, Lines, Piece, Repeat};
use clothwright::units::show::Style;

fn keep(name: &str, sheet: &Sheet, look: Look) {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("sheets");
    std::fs::create_dir_all(&folder).expect("the target folder can be written");
    let bytes = png::bytes(sheet, 110.0, look).expect("drawn");
    std::fs::write(folder.join(name), bytes).expect("the target folder can be written");
}

fn within_margins(sheet: &Sheet) {
    let e = extent::of(&sheet.items).expect("something is drawn");
    assert!(e.x0 >= MARGIN - 1.0 && e.x1 <= sheet.width - MARGIN + 1.0, "{e:?} on {} wide", sheet.width);
    assert!(e.y0 >= MARGIN - 1.0 && e.y1 <= sheet.height - MARGIN + 1.0, "{e:?} on {} high", sheet.height);
}

fn names(words: &[&str]) -> Vec<String> {
    words.iter().map(|w| w.to_string()).collect()
}

fn drawn(job: &Job, layout: &Layout, names: &[String], style: Style, paper: Paper) -> Sheet {
    let sheet = lay::sheet(&Lay { job, layout, names, stripes: None, style }, paper);
    within_margins(&sheet);
    sheet
}

#[test]
fn the_lay_of_a_tee_and_of_towels() {
    let job = Job::new(610.0, tee());
    let layout = nest::solve(&job, &budget(200_000), &|_| false).expect("a sound job");
    let names = names(&["front", "back", "sleeve", "neck facing", "pocket"]);
    let sheet = drawn(&job, &layout, &names, Style::Metric, Paper::A4);
    keep("lay-tee.png", &sheet, Look::Light);
    let inch = drawn(&job, &layout, &names, Style::Inch, Paper::Letter);
    keep("lay-tee-inch-dark.png", &inch, Look::Dark);
    // To scale: the drawn pieces' area, put back to full size, is the pieces' area.
    let scale = sheet.scale.expect("to scale");
    let pieces = sheet.items.iter().filter_map(|item| match item {
        Item::Group { items, .. } => match items.first() {
            Some(Item::Path { path, .. }) => geom::flatten(path, 0.01).first().map(|o| geom::area(o).abs()),
            _ => None,
        },
        _ => None,
    });
    let area: f64 = pieces.sum::<f64>() / (scale * scale);
    assert!((area / job.area() - 1.0).abs() < 1e-6, "{area} for {}", job.area());

    let towels = Job::new(420.0, vec![Piece { how_many: 6, ..Piece::new(rectangle(750.0, 420.0)) }]);
    let layout = nest::solve(&towels, &budget(2_000), &|_| false).expect("a sound job");
    let sheet = drawn(&towels, &layout, &[String::from("towel")], Style::Metric, Paper::A4);
    keep("lay-towels.png", &sheet, Look::Print);
}

/// An L, not its own mirror image, is drawn as it lies with the right side up: x to the right, y up from the lower selvedge.
#[test]
fn a_piece_is_not_drawn_mirrored() {
    let corners = [(0.0, 0.0), (300.0, 0.0), (300.0, 100.0), (100.0, 100.0), (100.0, 200.0), (0.0, 200.0)];
    let piece = Piece { turns: nest::Turns::ONE_WAY, ..Piece::new(corners.map(kurbo::Point::from).to_vec()) };
    let job = Job::new(400.0, vec![piece]);
    let layout = nest::bottom_left(&job).expect("a sound job");
    let sheet = drawn(&job, &layout, &names(&["bracket"]), Style::Metric, Paper::A4);
    let outline = sheet.items.iter().find_map(|item| match item {
        Item::Group { items, .. } => match items.first() {
            Some(Item::Path { path, .. }) => geom::flatten(path, 0.01).into_iter().next(),
            _ => None,
        },
        _ => None,
    });
    let outline = outline.expect("the piece is drawn");
    let (a, foot) = (geom::bounds(&outline), geom::centroid(&outline));
    assert!(foot.x < a.center().x && foot.y > a.center().y, "its heavy corner lies low and left: {foot:?} in {a:?}");
}

#[test]
fn stripes_are_drawn_where_pieces_match_them() {
    let mut pieces = tee();
    pieces[..3].iter_mut().for_each(|piece| piece.match_at = Some(kurbo::Point::ZERO));
    let repeat = Repeat { along: Some(60.0), across: Some(Lines { from: 20.0, every: 40.0 }) };
    let job = Job { repeat, ..Job::new(640.0, pieces) };
    let layout = nest::solve(&job, &budget(20_000), &|_| false).expect("a sound job");
    let bands = |every: f64, far: f64| -> Vec<Band> {
        let band = |k: usize| {
            let (from, rgb) =
                (k as f64 * every / 2.0, if k.is_multiple_of(2) { [237, 227, 206] } else { [45, 62, 104] });
            Band { from, to: from + every / 2.0, rgb }
        };
        (0..(2.0 * far / every).ceil() as usize).map(band).collect()
    };
    let names = names(&["front", "back", "sleeve", "neck facing", "pocket"]);
    let marks = vec![Some(kurbo::Point::new(60.0, 40.0)), None, Some(kurbo::Point::new(60.0, 120.0)), None, None];
    let words = "Every mark lies on the middle of a stripe.".to_string();
    let stripes = Stripes { warp: bands(40.0, 640.0), weft: bands(60.0, layout.length), marks, words };
    for (name, look) in [("lay-stripes.png", Look::Light), ("lay-stripes-dark.png", Look::Dark)] {
        let lay = Lay { job: &job, layout: &layout, names: &names, stripes: Some(&stripes), style: Style::Metric };
        let sheet = lay::sheet(&lay, Paper::A4);
        within_margins(&sheet);
        keep(name, &sheet, look);
    }
}

#[test]
fn the_widths_of_a_tee() {
    let stops: Vec<f64> = (0..8).map(|i| 595.0 + 40.0 * f64::from(i)).collect();
    let table = nest::widths(&stops, &|_| tee(), &budget(5_000), &|_| false);
    let rows: Vec<Width> = table
        .rows
        .iter()
        .filter_map(|row| {
            Some(Width { width: row.width, length: table.length_at(row.width)?, hours: None, hours_before: None })
        })
        .map(|row| Width { hours: Some(20.0 + row.width * row.length / 40_000.0), ..row })
        .collect();
    let least = table.least_area().expect("some width serves").width;
    let chosen = rows.iter().position(|row| row.width == least).expect("one of them");
    let sheet = widths::sheet(&Widths { rows: &rows, chosen, what: "finished width", style: Style::Metric }, Paper::A4);
    within_margins(&sheet);
    keep("widths-tee.png", &sheet, Look::Light);
    let none =
        widths::sheet(&Widths { rows: &[], chosen: 0, what: "finished width", style: Style::Inch }, Paper::Letter);
    within_margins(&none);
}
