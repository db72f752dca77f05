//! The weaver's sheets through the exporters: the largest drafts, every kind of heddle, the pictures on paper.

use crate::cloth::look;
use clothwright::draw::sheets::{cloth, draft, ribbons, section};
use clothwright::draw::style::Look;
use clothwright::draw::{png, svg};
use clothwright::units::show::Style;
use clothwright::weave::heddles::{Hanging, Heddles, Hold, Move, Place, Way};
use clothwright::weave::{ColourOrder, Draft, Drawdown, Interlacing, Lifts, Set, Shed};
use proptest::prelude::*;

/// 1000 ends on 8 shafts by 640 picks, whole: an SVG and a PNG that show both inks of the cloth.
#[test]
fn a_thousand_ends_on_eight_shafts_are_drawn() {
    let point = |n: usize| if n % 14 < 8 { n % 14 + 1 } else { 15 - n % 14 };
    let threading: Vec<Set> = (0..1000).map(|e| Set::of(&[point(e)])).collect();
    let tieup: Vec<Set> = (0..8).map(|t| (0..4).map(|i| (t + i) % 8 + 1).collect()).collect();
    let treadling: Vec<Set> = (0..640).map(|k| Set::of(&[point(k)])).collect();
    let draft = Draft::new("points", 8, threading, Lifts::Treadled { tieup, treadling }, Shed::Rising).unwrap();
    let one = ColourOrder::plain(0);
    for whole in [true, false] {
        let sheet =
            draft::sheet(&draft::Drafted { draft: &draft, colours: &[], warp: &one, weft: &one, whole }).unwrap();
        let text = svg::file(&sheet);
        assert!(text.len() < 3_000_000 && text.matches("data:image/png").count() == usize::from(whole));
        assert!(png::bytes(&sheet, if whole { 36.0 } else { 96.0 }, Look::Print).unwrap().len() > 10_000);
    }
}

#[test]
fn a_draft_too_large_is_refused() {
    let all = |n: usize| (0..n).map(|i| Set::of(&[i * i % 251 + 1])).collect::<Vec<_>>();
    let draft = Draft::new("", 256, all(90_000), Lifts::Plan(all(90_000)), Shed::Rising).unwrap();
    let one = ColourOrder::plain(0);
    // The squares of 251 repeat, so the repeat is small and is drawn; every end and pick is not.
    let drafted = |whole| draft::Drafted { draft: &draft, colours: &[], warp: &one, weft: &one, whole };
    assert!(draft::sheet(&drafted(false)).is_ok());
    assert!(draft::sheet(&drafted(true)).is_err());
}

#[test]
fn the_cloth_on_paper() {
    let (off, mut washed) = (look("plain", 0.3, 11.0), look("plain", 0.3, 12.0));
    washed.straying = 0.08;
    let facts = [("sett".to_string(), "12 /cm".to_string())];
    for off in [None, Some(&off)] {
        let seen = cloth::Seen { name: "plain weave", off, washed: &washed, facts: &facts, style: Style::Metric };
        let sheet = cloth::sheet(&seen).unwrap();
        assert_eq!(svg::file(&sheet).matches("data:image/png").count(), if off.is_some() { 5 } else { 4 });
        let e = clothwright::draw::extent::of(&sheet.items).unwrap();
        assert!(e.x1 <= sheet.width - 5.0 && e.y1 <= sheet.height - 5.0 && sheet.height <= 297.0, "{e:?}");
    }
    assert!(ribbons::sheet(&washed, "plain weave").is_ok());
    let cut = section::Cut { look: &washed, state: "washed", style: Style::Inch };
    assert!(svg::file(&section::sheet(&cut)).contains("thick"));
}

fn any_block() -> impl Strategy<Value = Drawdown> {
    (1usize..10, 1usize..10).prop_flat_map(|(ends, picks)| {
        prop::collection::vec(any::<bool>(), ends * picks)
            .prop_map(move |up| Drawdown::from_fn(ends, picks, |e, k| up[k * ends + e]).unwrap())
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    /// Identities: a block comes back from its draft, its lift plan and its repeat; looking from the back or from the side
    /// exchanges what it should.
    #[test]
    fn blocks_and_drafts(block in any_block()) {
        let draft = block.draft("any").unwrap();
        prop_assert_eq!(draft.drawdown().unwrap(), block.clone());
        prop_assert_eq!(draft.as_lift_plan().drawdown().unwrap(), block.clone());
        prop_assert!(draft.shafts() <= block.ends());
        let repeat = block.repeat();
        for (e, k) in (0..block.ends()).flat_map(|e| (0..block.picks()).map(move |k| (e, k))) {
            prop_assert_eq!(repeat.warp_up(e, k), block.warp_up(e, k));
        }
        let (face, back, side) =
            (Interlacing::of(&block), Interlacing::of(&block.turned()), Interlacing::of(&block.transposed()));
        prop_assert_eq!((face.longest_warp_float.0, face.longest_warp_float.1), (back.longest_warp_float.1, back.longest_warp_float.0));
        prop_assert_eq!((face.weft_crossings, face.holds_together), (back.weft_crossings, back.holds_together));
        prop_assert_eq!((face.warp_crossings, face.ends, face.longest_weft_float), (side.weft_crossings, side.picks, side.longest_warp_float));
        prop_assert!((face.warp_on_face + back.warp_on_face - 1.0).abs() < 1e-12);
        prop_assert!(face.loose_ends.is_empty() && face.loose_picks.is_empty() || !face.holds_together || face.ends * face.picks == 1);
    }

    /// Whatever hangs on rigid heddles is lifted by two levels to just what the block says.
    #[test]
    fn rigid_heddles_make_the_block(block in any_block(), heddles in 1usize..=3, ends_per_pitch in 1usize..7) {
        // what is hung is the repeat: two and a half of it in a draft are woven on as the third
        let block = block.repeat();
        let draft = block.draft("any").unwrap();
        let Ok(hanging) = Hanging::of(&draft, Heddles::Rigid { heddles, ends_per_pitch }) else { return Ok(()) };
        for pick in 0..block.picks() {
            let Move::Rigid(holds) = hanging.moves(pick) else { return Err(TestCaseError::fail("not rigid")) };
            let down = holds.contains(&Hold::Down);
            prop_assert!(!(down && holds.contains(&Hold::Up)));
            let still = holds.iter().all(|h| *h == Hold::Rest);
            let ups: Vec<bool> = (0..3 * block.ends()).map(|end| {
                let Place::Rigid(ways) = hanging.place(end) else { return down };
                let held = ways.iter().position(|w| matches!(w, Way::Eye(_))).map_or(Hold::Rest, |h| holds[h]);
                if down { held != Hold::Down } else { held == Hold::Up }
            }).collect();
            for (end, up) in ups.iter().enumerate() {
                // With no heddle moved there is no shed, and all threads are on one side.
                prop_assert!(*up == block.warp_up(end, pick) || still && (0..block.ends()).all(|e| block.warp_up(e, pick)));
            }
        }
        let mut eyes = std::collections::BTreeSet::new();
        for end in 0..40 {
            if let Place::Rigid(ways) = hanging.place(end) {
                for (heddle, way) in ways.iter().enumerate() {
                    if let Way::Eye(n) = way { prop_assert!(eyes.insert((heddle, *n)), "one thread to an eye"); }
                }
                prop_assert!(ways.iter().filter(|w| matches!(w, Way::Eye(_))).count() <= 1, "one eye to a thread");
            }
        }
    }
}
