//! Laying a garment: the plain rule, a search, the proof, a sweep of widths. Counts of places tried are the same in each run,
//! so times compare; nothing here is run by the check.

use clothwright::geom::{self, Point, Rect};
use clothwright::nest::{self, Budget, Job, Piece, Turns};
use kurbo::BezPath;

fn main() {
    divan::main();
}

fn flat(svg: &str) -> Vec<Point> {
    geom::flatten(&BezPath::from_svg(svg).expect("own text"), geom::FLATTEN).remove(0)
}

/// A shaped tee with long sleeves in sixteen pieces.
fn tee() -> Vec<Piece> {
    let rectangle = |along, across| geom::rectangle(Rect::new(0.0, 0.0, along, across));
    let many = |how_many, outline| Piece { how_many, ..Piece::new(outline) };
    let loose = |how_many, outline| Piece { turns: Turns::QUARTERS, ..many(how_many, outline) };
    let body = |neck: f64| {
        let dip = 700.0 - 1.2 * neck;
        flat(&format!("M0,-290 L660,-290 L700,-{neck} C{dip},-{neck} {dip},{neck} 700,{neck} L660,290 L0,290 Z"))
    };
    vec![
        many(1, body(95.0)),
        many(1, body(80.0)),
        many(2, flat("M0,-120 L400,-220 C470,-80 470,80 400,220 L0,120 Z")),
        many(2, rectangle(90.0, 250.0)),
        loose(3, rectangle(330.0, 45.0)),
        many(2, flat("M0,0 L140,0 L140,130 C100,160 40,160 0,130 Z")),
        loose(4, rectangle(110.0, 110.0)),
        loose(1, rectangle(240.0, 30.0)),
    ]
}

fn budget(evaluations: u64) -> Budget {
    Budget { evaluations, workers: 2, seed: 1 }
}

#[divan::bench]
fn bottom_left() -> f64 {
    nest::bottom_left(&Job::new(610.0, tee())).expect("a sound job").length
}

#[divan::bench(args = [10_000, 100_000], sample_count = 10)]
fn solve(evaluations: u64) -> f64 {
    nest::solve(&Job::new(610.0, tee()), &budget(evaluations), &|_| false).expect("a sound job").length
}

#[divan::bench]
fn check(bencher: divan::Bencher) {
    let job = Job::new(610.0, tee());
    let layout = nest::bottom_left(&job).expect("a sound job");
    bencher.bench(|| nest::check(&job, &layout).is_ok());
}

#[divan::bench(sample_count = 5)]
fn ten_widths() -> Option<f64> {
    let stops: Vec<f64> = (0..10).map(|i| 600.0 + 20.0 * f64::from(i)).collect();
    nest::widths(&stops, &|_| tee(), &Budget::SWEEP, &|_| false).length_at(700.0)
}
