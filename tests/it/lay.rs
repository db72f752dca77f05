//! The sheets of the lay: drawn for several jobs, within their margins, to scale, the pictures kept for the eye in the target
//! folder's `tmp/sheets`.
#![expect(clippy::disallowed_methods, reason = "a test writes its pictures to files")]

use crate::nest::{budget, rectangle, tee};
use clothwright::draw::sheet::{Item, Sheet};
use clothwright::draw::sheets::lay::{self, Lay};
use clothwright::draw::sheets::widths::{self, Width, Widths};
use clothwright::draw::style::Look;
use clothwright::draw::title::{MARGIN, Paper};
use clothwright::draw::{extent, png};
use clothwright::geom;
use clothwright::nest::{self, Job, Layout, Piece};
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
    let sheet = lay::sheet(&Lay { job, layout, names, style }, paper);
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
