//! The weaver's sheets through the exporters: the largest drafts, every kind of heddle, the pictures on paper.

use crate::cloth::look;
use clothwright::draw::sheets::{cloth, draft, ribbons, section};
use clothwright::draw::style::Look;
use clothwright::draw::{png, svg};
use clothwright::units::show::Style;
use clothwright::weave::{ColourOrder, Draft, Lifts, Set, Shed};

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
