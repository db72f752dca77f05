//! How long sheets take: the flow picture as the workbench sends it, a page as PDF and PNG, a pattern piece tiled.

use clothwright::draw::sheet::{Draw, Line, Sheet};
use clothwright::draw::sheets::flow::{Flow, Stage, Stuff, wide};
use clothwright::draw::sheets::symbols::Symbol;
use clothwright::draw::style::Look;
use clothwright::draw::title::Paper;
use clothwright::draw::{dxf, pdf, png, svg, tiles};
use clothwright::units::show::Style;
use clothwright::units::{G, Q};

fn main() {
    divan::main();
}

fn flow() -> Flow {
    let masses = [("seed cotton", 1097.0), ("lint", 373.0), ("carded fibre", 317.0), ("yarn", 295.0), ("tee", 176.0)];
    let stage = |(name, grams): (&str, f64)| Stage {
        name: name.to_string(),
        mass: Q::new(grams, &G),
        range: None,
        stuff: Stuff::Fibre,
        symbol: Symbol::Lint,
        note: String::new(),
        step: "carding".to_string(),
        lost: "dust".to_string(),
    };
    Flow { title: "Flow".to_string(), stages: masses.into_iter().map(stage).collect(), style: Style::Metric }
}

/// A sheet as large as a front piece, with circles for curves.
fn piece() -> Sheet {
    let mut sheet = Sheet::new("pattern", "Front", "", 640.0, 740.0);
    for i in 1..40 {
        sheet.circle(if i % 2 == 0 { Line::Cut } else { Line::Seam }, (320.0, 370.0), f64::from(i) * 7.5);
    }
    sheet
}

#[divan::bench]
fn flow_composed_and_inline(bencher: divan::Bencher) {
    let flow = flow();
    bencher.bench(|| svg::inline(&wide(&flow)));
}

#[divan::bench]
fn flow_as_pdf(bencher: divan::Bencher) {
    let sheet = wide(&flow());
    bencher.bench(|| pdf::single(&sheet));
}

#[divan::bench]
fn flow_as_png(bencher: divan::Bencher) {
    let sheet = wide(&flow());
    bencher.bench(|| png::bytes(&sheet, 130.0, Look::Light));
}

#[divan::bench]
fn piece_as_dxf(bencher: divan::Bencher) {
    let sheet = piece();
    bencher.bench(|| dxf::bytes(&sheet));
}

#[divan::bench]
fn piece_tiled(bencher: divan::Bencher) {
    let sheet = piece();
    bencher.bench(|| tiles::pdf(&sheet, Paper::A4, 12.0));
}
