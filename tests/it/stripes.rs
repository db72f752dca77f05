//! Stripes that meet: the repeat is known before the lay, pieces that are sewn together see the same stripe at their seam, and a plan whose
//! stripes cannot meet says so.

use crate::scene::{outcome_of, plan_of, source};
use clothwright::chain::decide::article::Laid;
use clothwright::chain::decide::decide;
use clothwright::chain::decide::stripes::{Stripes, Way};
use clothwright::chain::keys as id;
use clothwright::diag::Diagnostic;
use clothwright::draw::of_plan;
use clothwright::garment::Piece;
use clothwright::nest::{self, Placement};
use clothwright::outlook::Outcome;
use clothwright::units::*;
use kurbo::{ParamCurve, Point, Shape};
use proptest::prelude::*;

/// A shipped plan in these colours, its stripes to match.
fn striped(name: &str, kind: &str, warp: &str, weft: &str) -> (String, clothwright::plan::Files) {
    let (text, files) = source(name);
    let colours =
        |key: &str, order: &str| if order.is_empty() { String::new() } else { format!("{key} = \"{order}\"\n") };
    let cloth = format!("[cloth]\n{}{}", colours("warp_colours", warp), colours("weft_colours", weft));
    let asked = format!("kind = \"{kind}\"\nmatch_stripes = true\n");
    let kind = format!("kind = \"{kind}\"\n");
    assert_eq!((text.matches("[cloth]\n").count(), text.matches(&kind).count()), (1, 1));
    (text.replace("[cloth]\n", &cloth).replace(&kind, &asked), files)
}

fn laid(outcome: &Outcome) -> (&Laid, Stripes) {
    let width = outcome.get(&id::LAY_WIDTH).expect("a width");
    let article = &outcome.brief.article;
    (article.on(width).expect("a lay"), article.stripes.expect("stripes"))
}

/// Places on the cloth of a point of a piece, one for each copy that is cut.
fn places(laid: &Laid, piece: &str, at: impl Fn(&Piece) -> Point) -> Vec<Point> {
    let put = |placement: &Placement| {
        let index = laid.names[placement.piece];
        let drawn = &laid.garment.pieces[index];
        if drawn.name != piece {
            return None;
        }
        let p = at(drawn);
        // the first of a pair lies as drawn, the second turned over
        let side = if laid.names[..placement.piece].contains(&index) { -1.0 } else { 1.0 };
        Some(placement.put(Point::new(p.y, side * p.x)))
    };
    laid.layout.placements.iter().filter_map(put).collect()
}

/// How far a place is from the middle of the stripe that the pieces lie on: the same distance either way is the same colour, where the order
/// is even.
fn into(place: f64, middle: f64, way: Way) -> f64 {
    let repeat = way.repeat.get(&MM);
    let far = (place - middle).rem_euclid(repeat);
    if way.even { far.min(repeat - far) } else { far }
}

/// The end of one repeat is the start of the next.
fn same(a: f64, b: f64, way: Way) -> bool {
    let (off, repeat) = ((a - b).abs(), way.repeat.get(&MM));
    off < 0.1 || repeat - off < 0.1
}

fn assert_meet(laid: &Laid, stripes: &Stripes, pairs: &[(Point, Point)], both: bool) {
    assert!(!pairs.is_empty());
    let first = laid.layout.placements.iter().find_map(|p| Some(p.put(laid.job.pieces[p.piece].match_at?)));
    let middle = first.expect("a matched piece");
    for (a, b) in pairs {
        if let Some(way) = stripes.along {
            let (a, b) = (into(a.x, middle.x, way), into(b.x, middle.x, way));
            assert!(same(a, b, way), "along: {a} and {b} mm into the stripes");
        }
        if let (true, Some(way)) = (both, stripes.across) {
            let from = way.middle.get(&MM);
            let (a, b) = (into(a.y, from, way), into(b.y, from, way));
            assert!(same(a, b, way), "across: {a} and {b} mm into the stripes");
        }
    }
}

/// A point of an edge, as a share of its length from its upper end.
fn on_edge(piece: &Piece, name: &str, share: f64) -> Point {
    let edge = &piece.edges[piece.edge(name).unwrap_or_else(|| panic!("{} has no {name}", piece.name))];
    let line = edge.path.segments().next().expect("a segment");
    let (a, b) = (line.start(), line.end());
    if a.y < b.y { a.lerp(b, share) } else { b.lerp(a, share) }
}

fn centre(piece: &Piece) -> Point {
    Point::new(piece.seam_line().bounding_box().center().x, 0.0)
}

#[test]
fn a_striped_tee_meets_at_its_sides_shoulders_and_sleeves() {
    for (warp, weft) in
        [("24 natural, 6 indigo", "18 natural, 4 madder"), ("", "40 natural, 8 indigo"), ("9 weld, 3 woad", "")]
    {
        let (text, files) = striped("tern-bay-tee.toml", "tee", warp, weft);
        let outcome = outcome_of(&text, &files, 0);
        let (laid, stripes) = laid(&outcome);
        assert_eq!(nest::check(&laid.job, &laid.layout), Ok(laid.layout.proved));
        for share in [0.0, 0.3, 1.0] {
            let side = |piece: &str, edge: &str| places(laid, piece, |p| on_edge(p, edge, share));
            let pairs = [("side_right", "side_right"), ("side_left", "side_left"), ("side_left", "side_right")]
                .map(|(front, back)| (side("front", front)[0], side("back", back)[0]));
            assert_meet(laid, &stripes, &pairs, false);
            let sleeves = side("sleeve", "underarm_front");
            assert_meet(laid, &stripes, &[(sleeves[0], sleeves[1])], true);
        }
        let middles = (places(laid, "front", centre)[0], places(laid, "back", centre)[0]);
        let across = Stripes { along: None, ..stripes };
        if across.across.is_some() {
            assert_meet(laid, &across, &[middles], true);
        }
        let notch = |piece: &Piece, edge: &str| {
            let at = piece.edge(edge).expect("the edge");
            let notch = piece.notches.iter().find(|n| n.edge == at && n.along > 0.0).expect("a notch");
            piece.edges[at].at(notch.along).0
        };
        let front = places(laid, "front", |p| notch(p, "armhole_right"))[0];
        let cap = places(laid, "sleeve", |p| notch(p, "cap_front"))[0];
        assert_meet(laid, &stripes, &[(front, cap)], false);
        let extra = outcome.get(&id::MATCH_EXTRA).expect("said");
        let plain = laid.unmatched.expect("laid without, too");
        assert!((extra.get(&MM) - (laid.layout.length - plain).max(0.0)).abs() < 1e-9);
        let sewing = of_plan::sheets(&outcome, "sewing").expect("drawn");
        let words: String = sewing.iter().map(|sheet| format!("{:?}", sheet.items)).collect();
        assert!(words.contains("pin stripe on stripe"));
        assert_eq!(words.contains("side, "), !weft.is_empty());
    }
}

#[test]
fn the_repeat_is_that_of_the_finished_cloth() {
    let (text, files) = striped("tern-bay-tee.toml", "tee", "24 natural, 6 indigo", "18 natural, 4 madder");
    let outcome = outcome_of(&text, &files, 0);
    let (laid, stripes) = laid(&outcome);
    let repeat = |threads: f64, key| threads / outcome.get(key).expect("a sett").get(&PER_CM) * 10.0;
    let (across, along) = (repeat(30.0, &id::SETT_FINISHED), repeat(22.0, &id::PICKS_FINISHED));
    let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-6, "{a} and {b}");
    close(laid.job.repeat.across.expect("lines").every, across);
    close(laid.job.repeat.along.expect("a repeat"), along);
    close(outcome.get(&id::STRIPES_ACROSS).expect("said").get(&MM), across);
    close(outcome.get(&id::STRIPES_ALONG).expect("said").get(&MM), along);
    // the weft is begun so that match points lie on the middle of a stripe, to half a pick
    let order = &outcome.brief.woven.weft_order;
    let first = laid.layout.placements.iter().find_map(|p| Some(p.put(laid.job.pieces[p.piece].match_at?).x));
    let picks = laid.first_pick(&stripes, order) as f64 + first.expect("matched") / along * 22.0;
    let off = (picks - 9.0).rem_euclid(22.0);
    assert!(off.min(22.0 - off) <= 0.5 + 1e-9, "{off}");
}

#[test]
fn the_pocket_of_an_apron_vanishes_in_its_stripes() {
    let (text, files) = striped("tern-bay-apron.toml", "apron", "40 natural, 6 indigo", "30 natural, 5 weld");
    let outcome = outcome_of(&text, &files, 0);
    let (laid, stripes) = laid(&outcome);
    let place = |piece: &Piece| {
        let mark = piece.marks.iter().find(|m| m.words == "pocket").expect("its place");
        let b = mark.path.bounding_box();
        Point::new(b.x0, b.y0)
    };
    let own = |piece: &Piece| {
        let b = piece.seam_line().bounding_box();
        Point::new(b.x0, b.y0)
    };
    let pair = (places(laid, "apron", place)[0], places(laid, "pocket", own)[0]);
    assert_meet(laid, &stripes, &[pair], true);
}

#[test]
fn a_tote_folded_at_its_bottom_meets_itself() {
    let (text, files) = striped("tern-bay-tote.toml", "tote", "", "20 natural, 4 madder");
    let outcome = outcome_of(&text, &files, 0);
    let (laid, stripes) = laid(&outcome);
    let up = |edge: &'static str, share: f64| places(laid, "bag", |p| on_edge(p, edge, share));
    for share in [0.0, 0.4, 0.9] {
        // a way down from the top of the front and the same way from the top of the back
        let (front, back) = (up("side_front_right", share), up("side_back_right", 1.0 - share));
        assert_meet(laid, &stripes, &[(front[0], back[0]), (front[1], back[1])], false);
    }
    let uneven = striped("tern-bay-tote.toml", "tote", "", "20 natural, 4 madder, 2 weld");
    assert!(noticed(&uneven).iter().any(|found| found.message.contains("cannot meet its own stripes")));
}

fn noticed((text, files): &(String, clothwright::plan::Files)) -> Vec<Diagnostic> {
    match decide(&plan_of(text, files)) {
        Ok(brief) => brief.noticed,
        Err(found) => found,
    }
}

#[test]
fn panels_of_a_split_piece_run_on() {
    let (text, files) = striped("tern-bay-tee.toml", "tee", "24 natural, 6 indigo", "18 natural, 4 madder");
    let narrow = text.replace("weaving_width = \"72 cm\"", "weaving_width = \"52 cm\"");
    let outcome = outcome_of(&narrow, &files, 0);
    let (laid, stripes) = laid(&outcome);
    let seams: Vec<_> = laid.garment.seams.iter().filter(|seam| seam.name.ends_with(" panels")).collect();
    assert!(!seams.is_empty());
    for seam in seams {
        let end = |at: clothwright::garment::EdgeRef| {
            let piece = &laid.garment.pieces[at.piece];
            let name = piece.edges[at.edge].name.clone();
            places(laid, &piece.name, move |p| on_edge(p, &name, 0.2))[0]
        };
        assert_meet(laid, &stripes, &[(end(seam.a[0]), end(seam.b[0]))], true);
    }
}

#[test]
fn what_cannot_match_says_why() {
    let wide = noticed(&striped("tern-bay-tee.toml", "tee", "600 natural, 60 indigo", ""));
    let why = wide.iter().find(|found| found.is_error()).expect("no place");
    assert!(why.message.contains("no place for the front") && why.message.contains("46.3 cm"), "{}", why.message);
    let plain = noticed(&striped("tern-bay-tee.toml", "tee", "12 natural", ""));
    assert!(plain.iter().any(|found| found.code == "no-stripes" && !found.is_error()));
    let uneven = striped("tern-bay-tee.toml", "tee", "20 natural, 6 indigo, 3 madder", "");
    assert!(noticed(&uneven).iter().any(|found| found.code == "uneven-stripes"));
    let outcome = outcome_of(&uneven.0, &uneven.1, 0);
    let held = |p: &&Placement| laid(&outcome).0.job.pieces[p.piece].match_at.is_some();
    let turned = laid(&outcome).0.layout.placements.iter().filter(held).any(|p| p.turn != nest::Turn::None);
    assert!(!turned, "uneven stripes show which way up a piece was cut");
    // stripes nobody asked to match leave the lay as it is
    let (text, files) = source("tern-bay-tee.toml");
    let coloured = text.replace("[cloth]\n", "[cloth]\nwarp_colours = \"24 natural, 6 indigo\"\n");
    let (plain, coloured) = (outcome_of(&text, &files, 0), outcome_of(&coloured, &files, 0));
    assert!(coloured.get(&id::STRIPES_ACROSS).is_some() && coloured.get(&id::MATCH_EXTRA).is_none());
    let lay = |outcome: &Outcome| outcome.brief.article.laid.iter().map(|laid| laid.layout.clone()).collect::<Vec<_>>();
    assert_eq!(lay(&plain), lay(&coloured));
}

proptest! {
    // 8 plans at some half a second each in the dev profile.
    #![proptest_config(ProptestConfig::with_cases(8))]
    #[test]
    fn any_stripes_on_any_tee_meet_or_say_why(
        (ground, stripe, third) in (2usize..60, 1usize..20, 0usize..4),
        (warp, weft, straight) in (any::<bool>(), any::<bool>(), any::<bool>()),
        chest in 80u32..125,
    ) {
        let third = if third == 0 { String::new() } else { format!(", {third} madder") };
        let order = format!("{ground} natural, {stripe} indigo{third}");
        let pick = |asked: bool| if asked { order.as_str() } else { "" };
        let (text, files) = striped("tern-bay-tee.toml", "tee", pick(warp), pick(weft || !warp));
        let text = text.replace("chest = \"98 cm\"", &format!("chest = \"{chest} cm\""));
        let text = if straight { text.replace("cut = \"shaped\"", "cut = \"straight\"") } else { text };
        match decide(&plan_of(&text, &files)) {
            Err(found) => prop_assert!(found.iter().filter(|f| f.is_error()).all(|f| !f.message.is_empty())),
            Ok(brief) => {
                let width = brief.given.get(&id::LAY_WIDTH).expect("a width");
                let (laid, stripes) = (brief.article.on(width).expect("a lay"), brief.article.stripes.expect("stripes"));
                prop_assert_eq!(nest::check(&laid.job, &laid.layout), Ok(laid.layout.proved));
                let whole = |name: &str| laid.garment.pieces.iter().any(|p| p.name == name);
                if whole("front") && whole("back") {
                    let foot = |piece| places(laid, piece, |p| Point::new(0.0, p.seam_line().bounding_box().y1));
                    assert_meet(laid, &stripes, &[(foot("front")[0], foot("back")[0])], true);
                }
            }
        }
    }
}
