//! Laying: every layout is proved by the checker and, apart from it, measured with the general boolean library; the same
//! budget gives the same layout on any number of threads; a caller may stop; hostile outlines are refused.

use clothwright::geom::{self, Point, Rect, offset::common_area};
use clothwright::nest::{self, Breach, Budget, Fault, Job, Layout, Lines, Piece, Repeat, Turn, Turns, Zone};
use proptest::prelude::*;
use std::sync::atomic::{AtomicU32, Ordering};

pub fn rectangle(along: f64, across: f64) -> Vec<Point> {
    geom::rectangle(Rect::new(0.0, 0.0, along, across))
}

pub fn budget(evaluations: u64) -> Budget {
    Budget { evaluations, workers: 2, seed: 1 }
}

fn solved(job: &Job, evaluations: u64) -> Layout {
    let layout = nest::solve(job, &budget(evaluations), &|_| false).expect("a sound job");
    assert_sound(job, &layout);
    layout
}

/// Proved by the checker, and no pair's common area more than the clearance could make.
fn assert_sound(job: &Job, layout: &Layout) {
    assert_eq!(nest::check(job, layout), Ok(layout.proved));
    let shapes: Vec<_> = layout.placements.iter().map(|p| p.outline(job)).collect();
    for (i, a) in shapes.iter().enumerate() {
        for b in &shapes[..i] {
            let round = geom::perimeter(a).min(geom::perimeter(b));
            let common = common_area(a, b);
            assert!(common <= job.clearance * round, "{common} mm² in common");
        }
    }
    let area: f64 = shapes.iter().map(|s| geom::area(s).abs()).sum();
    assert!((layout.used - area / layout.length / job.strip.width).abs() < 1e-9);
    let first = nest::bottom_left(job).expect("a sound job");
    assert!(layout.length <= first.length + 1e-9, "{} is longer than bottom-left's {}", layout.length, first.length);
}

/// A piece like the body of a shaped tee, hem at x = 0: shoulders that slope by 40, a curved neck; grain along x.
fn body(length: f64, half: f64, neck: f64) -> Vec<Point> {
    let (tip, dip, side) = (length - 40.0, length - 1.2 * neck, 0.8 * neck);
    flat(&format!(
        "M0,-{half} L{tip},-{half} L{length},-{neck} C{dip},-{side} {dip},{side} {length},{neck} L{tip},{half} L0,{half} Z"
    ))
}

fn sleeve(width: f64, depth: f64) -> Vec<Point> {
    let h = width / 2.0;
    flat(&format!("M0,-{0} L{1},-{h} C{2},-{3} {2},{3} {1},{h} L0,{0} Z", h * 0.8, depth - 60.0, depth + 20.0, h * 0.3))
}

fn flat(svg: &str) -> Vec<Point> {
    let path = kurbo::BezPath::from_svg(svg).expect("own text");
    geom::flatten(&path, geom::FLATTEN).remove(0)
}

/// Two bodies, two sleeves, a facing and a pocket.
pub fn tee() -> Vec<Piece> {
    let twice = |outline| Piece { how_many: 2, ..Piece::new(outline) };
    vec![
        Piece::new(body(700.0, 295.0, 100.0)),
        Piece::new(body(690.0, 295.0, 90.0)),
        twice(sleeve(460.0, 240.0)),
        Piece { turns: Turns::QUARTERS, ..Piece::new(rectangle(320.0, 40.0)) },
        Piece::new(rectangle(120.0, 110.0)),
    ]
}

#[test]
fn a_towel_exactly_as_wide_as_the_cloth_fits() {
    let job = Job::new(420.0, vec![Piece { how_many: 3, ..Piece::new(rectangle(750.0, 420.0)) }]);
    let layout = solved(&job, 20_000);
    assert!((layout.length - 3.0 * 750.0).abs() < 0.1, "{}", layout.length);
    assert!(layout.used > 0.9999);
}

#[test]
fn towels_side_by_side_leave_no_waste() {
    for across in [2, 3, 4] {
        let towel = rectangle(500.0, 600.0 / f64::from(across));
        let job = Job::new(600.0, vec![Piece { how_many: 4 * across as usize, ..Piece::new(towel) }]);
        let layout = solved(&job, 20_000);
        assert!((layout.length - 2000.0).abs() < 0.5, "{across} across: {}", layout.length);
    }
}

#[test]
fn a_straight_tee_of_rectangles_packs_as_well_as_by_hand() {
    // Two bodies as wide as the cloth; beside two sleeves end to end 150 mm are left for a facing and gussets.
    let piece = |along, across, how_many| Piece { how_many, ..Piece::new(rectangle(along, across)) };
    let job = Job::new(
        600.0,
        vec![piece(680.0, 600.0, 2), piece(240.0, 450.0, 2), piece(120.0, 150.0, 4), piece(300.0, 150.0, 1)],
    );
    let layout = solved(&job, 100_000);
    // 480 mm of sleeves, facing (300) and one gusset (120) beside them, then a row of the other three: 120 more. By area
    // alone it could not be under 1360 + 555.
    assert!((layout.length - (1360.0 + 600.0)).abs() < 0.5, "{}", layout.length);
}

#[test]
fn a_shaped_tee_is_much_shorter_than_bottom_left() {
    let job = Job::new(610.0, tee());
    let layout = solved(&job, 200_000);
    assert!(layout.used > 0.70, "{:.3} used, {} mm", layout.used, layout.length);
    assert!(layout.trail.windows(2).all(|w| w[1].length < w[0].length && w[1].evaluations >= w[0].evaluations));
}

#[test]
fn the_same_layout_on_one_two_and_three_threads() {
    let job = Job::new(900.0, tee());
    let on = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
        pool.install(|| nest::solve(&job, &Budget { evaluations: 60_000, workers: 3, seed: 5 }, &|_| false))
    };
    let one = on(1).expect("a sound job");
    assert_eq!(format!("{:?}", on(2).expect("a sound job")), format!("{one:?}"));
    assert_eq!(format!("{:?}", on(3).expect("a sound job")), format!("{one:?}"));
    let other = nest::solve(&job, &Budget { evaluations: 60_000, workers: 3, seed: 6 }, &|_| false);
    assert_ne!(other.expect("a sound job").placements, one.placements, "the seed matters");
}

#[test]
fn a_caller_who_stops_is_told_so() {
    let job = Job::new(900.0, tee());
    let asked = AtomicU32::new(0);
    let layout = nest::solve(&job, &budget(u64::MAX), &|p| {
        assert!(p.length > 0.0);
        asked.fetch_add(1, Ordering::Relaxed) > 20
    });
    let layout = layout.expect("a sound job");
    assert!(layout.stopped_early);
    assert_sound(&job, &layout);
    assert!(!solved(&job, 1_000).stopped_early);
    assert!(asked.into_inner() < 40);
}

#[test]
fn one_way_zones_and_selvedges_are_kept() {
    let one_way = Piece { turns: Turns::ONE_WAY, how_many: 3, ..Piece::new(sleeve(300.0, 200.0)) };
    let edge = Piece { zone: Zone::Selvedge, how_many: 4, ..Piece::new(rectangle(350.0, 120.0)) };
    let middle = Piece { zone: Zone::Band { from: 200.0, to: 450.0 }, ..Piece::new(rectangle(200.0, 250.0)) };
    let job = Job::new(700.0, vec![one_way, edge, middle]);
    let layout = solved(&job, 50_000);
    for p in &layout.placements {
        let b = p.bounds(&job);
        match p.piece {
            0 => assert_eq!(p.turn, Turn::None),
            1 => assert!(if p.turn == Turn::None { b.y0.abs() < 0.03 } else { (b.y1 - 700.0).abs() < 0.03 }),
            _ => assert!(b.y0 > 199.9 && b.y1 < 450.1),
        }
    }
}

#[test]
fn hostile_outlines_are_refused() {
    let solve =
        |outline: Vec<Point>| nest::solve(&Job::new(100.0, vec![Piece::new(outline)]), &budget(1000), &|_| false);
    let points = |p: &[(f64, f64)]| p.iter().map(|p| Point::from(*p)).collect::<Vec<_>>();
    assert!(matches!(solve(points(&[(0., 0.), (9., 9.), (9., 0.), (0., 9.)])), Err(Fault::Outline { .. })));
    assert!(matches!(solve(points(&[(0., 0.), (9., 9.)])), Err(Fault::Outline { .. })));
    assert!(matches!(solve(points(&[(0., 0.), (9., 0.), (18., 0.)])), Err(Fault::Outline { .. })));
    assert!(matches!(solve(points(&[(0., 0.), (f64::INFINITY, 0.), (0., 9.)])), Err(Fault::Outline { .. })));
    assert!(matches!(solve(points(&[(0., 0.), (1e300, 0.), (0., 9.)])), Err(Fault::Outline { .. })));
    assert!(matches!(solve(rectangle(10.0, 100.2)), Err(Fault::TooWide { piece: 0, .. })));
    assert!(matches!(solve(rectangle(10.0, 1e-3)), Err(Fault::TooFine { piece: 0 })));
    assert!(
        solve(points(&[(1e4, 1e4), (1e4 + 50., 1e4), (1e4, 1e4 + 50.)])).is_ok(),
        "far from the origin is no fault"
    );
}

#[test]
fn a_table_of_widths_steps_down() {
    let pieces = |width: f64| {
        // On cloth narrower than the body it is cut as two halves.
        if width >= 590.0 { tee() } else { tee().into_iter().map(|p| halved(p, width)).collect() }
    };
    fn halved(p: Piece, width: f64) -> Piece {
        let size = geom::bounds(&p.outline).size();
        if size.height <= width {
            p
        } else {
            Piece { how_many: 2 * p.how_many, ..Piece::new(rectangle(size.width, size.height / 2.0)) }
        }
    }
    let table = nest::widths(&[800.0, 400.0, 610.0, 100.0], &pieces, &budget(20_000), &|_| false);
    assert_eq!(table.rows.iter().map(|r| r.width).collect::<Vec<_>>(), [100.0, 400.0, 610.0, 800.0]);
    assert!(matches!(table.rows[0].laid, Err(Fault::TooWide { .. })));
    assert_eq!(table.length_at(399.0), None);
    assert_eq!(table.length_at(500.0), table.length_at(400.0));
    assert!(table.length_at(610.0) < table.length_at(609.9));
    assert!(table.length_at(900.0) <= table.length_at(610.0));
    assert!(table.least_area().is_some());
}

/// How far a place is from the nearest of those `every` so far apart.
fn off(far: f64, every: f64) -> f64 {
    (far - (far / every).round() * every).abs()
}

/// Every match point lies on a line across, and whole repeats from every other along.
fn assert_matched(job: &Job, layout: &Layout) {
    let held = layout.placements.iter().filter_map(|p| Some(p.put(job.pieces[p.piece].match_at?)));
    let points: Vec<Point> = held.collect();
    for (i, a) in points.iter().enumerate() {
        if let Some(Lines { from, every }) = job.repeat.across {
            assert!(off(a.y - from, every) < 0.03, "{a} is off the lines across");
        }
        for b in &points[..i] {
            assert!(
                job.repeat.along.is_none_or(|every| off(a.x - b.x, every) < 0.03),
                "{a} and {b} do not match along"
            );
        }
    }
}

/// The tee's pieces, bodies and sleeves held at their lower edge and middle.
fn striped(width: f64, along: Option<f64>, across: Option<Lines>) -> Job {
    let mut pieces = tee();
    pieces[..3].iter_mut().for_each(|piece| piece.match_at = Some(Point::ZERO));
    Job { repeat: Repeat { along, across }, ..Job::new(width, pieces) }
}

#[test]
fn matched_pieces_lie_whole_repeats_apart() {
    let lines = Lines { from: 12.0, every: 47.0 };
    for (along, across) in [(Some(31.7), None), (None, Some(lines)), (Some(31.7), Some(lines)), (Some(160.0), None)] {
        for width in [640.0, 900.0, 1300.0] {
            let job = striped(width, along, across);
            let layout = solved(&job, 40_000);
            assert_matched(&job, &layout);
            let first = nest::bottom_left(&job).expect("a sound job");
            assert_eq!(nest::check(&job, &first), Ok(first.proved));
            assert_matched(&job, &first);
            let free = Job { repeat: Repeat::default(), ..job.clone() };
            let (free, repeat) = (solved(&free, 40_000), along.unwrap_or(0.0));
            // each row of pieces may have to wait for the next repeat
            assert!(layout.length < free.length * 1.25 + 3.0 * repeat, "{} against {}", layout.length, free.length);
        }
    }
}

#[test]
fn without_stripes_match_points_change_nothing() {
    let job = Job::new(900.0, tee());
    let held = striped(900.0, None, None);
    let (free, held) = (solved(&job, 30_000), solved(&held, 30_000));
    assert_eq!(free.trail[0], held.trail[0]);
    assert_eq!(nest::check(&job, &held).map(|_| ()), Ok(()));
}

#[test]
fn a_piece_off_the_stripes_is_found_out() {
    let job = striped(900.0, Some(40.0), Some(Lines { from: 0.0, every: 30.0 }));
    let mut layout = solved(&job, 5_000);
    let last = layout.placements.iter().position(|p| p.piece == 1).expect("the second body");
    layout.placements[last].at.x += 1000.0 * 40.0;
    layout.length += 1000.0 * 40.0;
    assert!(nest::check(&job, &layout).is_ok(), "whole repeats further on is as good");
    layout.placements[last].at.x -= 0.1;
    let found = nest::check(&job, &layout).expect_err("a tenth of a millimetre off");
    assert!(matches!(found.as_slice(), [Breach::Match { by, .. }] if (by + 0.1).abs() < 0.03), "{found:?}");
}

#[test]
fn stripes_that_leave_no_place_are_named() {
    let fault = |job: &Job| nest::solve(job, &budget(1000), &|_| false).expect_err("no place");
    // the middle of a body 590 wide must lie on the one line, 50 from the selvedge
    let wide = striped(700.0, None, Some(Lines { from: 50.0, every: 2000.0 }));
    assert_eq!(fault(&wide), Fault::NoMatch { piece: 0, every: 2000.0, strip: 700.0 });
    let fits = striped(700.0, None, Some(Lines { from: 350.0, every: 2000.0 }));
    assert_matched(&fits, &solved(&fits, 5_000));
    for mm in [0.0, -30.0, 0.5, f64::NAN, f64::INFINITY] {
        assert!(matches!(fault(&striped(700.0, Some(mm), None)), Fault::Repeat { .. }), "{mm}");
        assert!(matches!(fault(&striped(700.0, None, Some(Lines { from: 0.0, every: mm }))), Fault::Repeat { .. }));
        let from = Lines { from: mm, every: 50.0 };
        assert_eq!(mm.is_finite(), nest::bottom_left(&striped(900.0, None, Some(from))).is_ok(), "{mm}");
    }
}

/// A random star about a centre: simple by the way it is made.
fn star() -> impl Strategy<Value = Vec<Point>> {
    (3usize..14).prop_flat_map(|n| proptest::collection::vec((0.15f64..1.0, 20.0f64..180.0), n)).prop_map(|spokes| {
        let whole: f64 = spokes.iter().map(|s| s.0).sum();
        let mut angle = 0.0;
        let mut outline = Vec::new();
        for (share, radius) in spokes {
            angle += share / whole * core::f64::consts::TAU;
            outline.push(Point::new(radius * libm::cos(angle), radius * libm::sin(angle)));
        }
        outline
    })
}

proptest! {
    // 24 jobs at some 0.1 s each in the dev profile.
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn random_pieces_always_end_in_a_proved_layout(
        outlines in proptest::collection::vec((star(), 1usize..4), 1..5),
        width in 200.0f64..800.0,
        seed in any::<u64>(),
    ) {
        let pieces = outlines.into_iter().map(|(outline, how_many)| Piece { how_many, ..Piece::new(outline) }).collect();
        let job = Job::new(width, pieces);
        match nest::solve(&job, &Budget { evaluations: 10_000, workers: 2, seed }, &|_| false) {
            Ok(layout) => assert_sound(&job, &layout),
            Err(Fault::TooWide { piece, .. }) => {
                prop_assert!(geom::bounds(&job.pieces[piece].outline).height() > width);
            }
            // A spoke between two wide ones may make a star that is crossed or a slit.
            Err(Fault::Outline { .. } | Fault::TooFine { .. }) => {}
            Err(other) => panic!("{other:?}"),
        }
    }

    #[test]
    fn random_pieces_on_random_stripes_match(
        outlines in proptest::collection::vec((star(), 1usize..4, any::<bool>()), 1..5),
        (width, along, across, from) in (300.0f64..800.0, 5.0f64..300.0, 5.0f64..150.0, -100.0f64..300.0),
        (warp, weft, seed) in (any::<bool>(), any::<bool>(), any::<u64>()),
    ) {
        let held = |(outline, how_many, held): (Vec<Point>, usize, bool)| {
            Piece { how_many, match_at: held.then_some(Point::ZERO), ..Piece::new(outline) }
        };
        let repeat = Repeat {
            along: weft.then_some(along),
            across: warp.then_some(Lines { from, every: across }),
        };
        let job = Job { repeat, ..Job::new(width, outlines.into_iter().map(held).collect()) };
        match nest::solve(&job, &Budget { evaluations: 10_000, workers: 2, seed }, &|_| false) {
            Ok(layout) => {
                assert_sound(&job, &layout);
                assert_matched(&job, &layout);
            }
            Err(Fault::NoMatch { piece, .. }) => {
                let room = width - geom::bounds(&job.pieces[piece].outline).height();
                prop_assert!(room < across, "{room} mm hold a line every {across} mm");
            }
            Err(Fault::TooWide { .. } | Fault::Outline { .. } | Fault::TooFine { .. }) => {}
            Err(other) => panic!("{other:?}"),
        }
    }
}
