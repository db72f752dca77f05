//! WIF: what is read and written again has lost nothing; what is wrong is told at its line; what is hostile is refused at once.
#![expect(clippy::disallowed_methods, reason = "a hostile file must be refused in time")]

use clothwright::diag::{Diagnostic, Look, Severity, any_error, render};
use clothwright::units::{MM, Q};
use clothwright::weave::wif::{Form, Hue, Paint, Palette, Reading, Units, Wif, read, write};
use clothwright::weave::{Colour, ColourOrder, Draft, Lifts, Set, Shed, Weave};
use proptest::prelude::*;
use std::collections::BTreeMap;

/// A small file of this project's own, with every section and key of the standard.
const WHOLE: &str = "; a towel
[WIF]
Version=1.1
Date=April 20, 1997
Developers=wif@mhsoft.com
Source Program=pencil
Source Version=2B

[CONTENTS]
COLOR PALETTE=true
TEXT=yes
WEAVING=on
WARP=1
[COLOR PALETTE]
Entries=3
Form=RGB
Range=0,999
[WARP SYMBOL PALETTE]
Entries=1
[WEFT SYMBOL PALETTE]
Entries=1
[TEXT]
Title=Tern Bay towel
Author=somebody
Address=by the sea
EMail=
Telephone=none
FAX=none
[WEAVING]
Shafts=4
Treadles=4
Rising Shed=yes
[WARP]
Threads=8
Color=1
Symbol=x
Symbol Number=1
Units=Decipoints
Spacing=40
Thickness=10.5
Spacing Zoom=4
Thickness Zoom=3
[WEFT]
Threads=4
Color=2,0,0,999
Units=Centimeters
Spacing=0.1
[NOTES]
1=First line, with = and , in it
2=second
[TIEUP]
1=1,2
2=2,3
3=3,4
4=1,4
[COLOR TABLE]
1=999,999,999
2=0,0,999
3=999,0,0
[WARP SYMBOL TABLE]
1=x
[WEFT SYMBOL TABLE]
1=o
[THREADING]
1=1
2=2
3=3
4=4
5=1
6=2
7=3,4
8=
[WARP THICKNESS]
3=20
[WARP THICKNESS ZOOM]
3=6
[WARP SPACING]
4=80
[WARP SPACING ZOOM]
4=8
[WARP COLORS]
3=3
[WARP SYMBOLS]
3=1
[TREADLING]
1=1
2=2
3=3,4
4=0
[WEFT THICKNESS]
2=0.05
[WEFT THICKNESS ZOOM]
2=2
[WEFT SPACING]
2=0.2
[WEFT SPACING ZOOM]
2=5
[WEFT COLORS]
2=3
[WEFT SYMBOLS]
2=1
[TRANSLATIONS]
Fr=oui
[BITMAP IMAGE]
1=0101
[BITMAP FILE]
Name=towel.bmp
[PRIVATE pencil]
; kept too
Blunt=very
a line of its own
";

fn codes(reading: &Reading) -> Vec<&'static str> {
    reading.diagnostics.iter().map(|d| d.code).collect()
}

fn good(text: &str) -> Wif {
    let reading = read(text.as_bytes());
    assert!(!any_error(&reading.diagnostics), "{}", shown(&reading));
    reading.wif.unwrap()
}

fn shown(reading: &Reading) -> String {
    render(&reading.diagnostics, &reading.text, "cloth.wif", Look::Plain)
}

#[test]
fn every_section_and_key_is_read() {
    let wif = good(WHOLE);
    assert_eq!(wif.title(), "Tern Bay towel");
    assert_eq!((wif.shafts, wif.treadles, wif.rising), (Some(4), Some(4), Some(true)));
    assert_eq!(wif.palette, Some(Palette { entries: Some(3), form: Form::Rgb, range: (0, 999) }));
    assert_eq!(wif.colours[&2], Paint::Rgb([0, 0, 999]));
    assert_eq!(wif.notes[&1], "First line, with = and , in it");
    let warp = &wif.warp;
    assert_eq!(
        (warp.threads, warp.colour, warp.units),
        (Some(8), Some(Hue { index: 1, rgb: None }), Some(Units::Decipoints))
    );
    assert_eq!(
        (warp.spacing, warp.thickness, warp.spacing_zoom, warp.thickness_zoom),
        (Some(40.0), Some(10.5), Some(4), Some(3))
    );
    assert_eq!((warp.symbol.as_deref(), warp.symbol_number, warp.symbol_entries), (Some("x"), Some(1), Some(1)));
    assert_eq!(
        (warp.thicknesses[&3], warp.thickness_zooms[&3], warp.spacings[&4], warp.spacing_zooms[&4]),
        (20.0, 6, 80.0, 8)
    );
    assert_eq!((warp.colours[&3].index, warp.symbols[&3].as_str(), warp.symbol_table[&1].as_str()), (3, "1", "x"));
    assert_eq!(wif.weft.colour, Some(Hue { index: 2, rgb: Some([0, 0, 999]) }));
    assert_eq!((wif.threading[&7], wif.threading[&8]), (Set::of(&[3, 4]), Set::EMPTY));
    assert_eq!((wif.treadling[&3], wif.treadling[&4]), (Set::of(&[3, 4]), Set::EMPTY));
    assert_eq!(wif.remarks, [("".into(), "a towel".into()), ("PRIVATE PENCIL".into(), "kept too".into())]);
    let kept: Vec<&str> = wif.kept.iter().map(|(n, _)| n.as_str()).collect();
    assert_eq!(kept, ["TRANSLATIONS", "BITMAP IMAGE", "BITMAP FILE", "PRIVATE pencil"]);
    assert_eq!(wif.kept[3].1, [("Blunt".into(), Some("very".into())), ("a line of its own".into(), None)]);
    // 40 decipoints are 40/720 inch.
    assert!((warp.spacing_of(1).unwrap() - Q::new(25.4 * 40.0 / 720.0, &MM)).get(&MM).abs() < 1e-12);
    assert_eq!(wif.weft.spacing_of(2).unwrap().get(&MM), 2.0);
    assert!((warp.thickness_of(3).unwrap().get(&MM) - 25.4 * 20.0 / 720.0).abs() < 1e-12);
}

#[test]
fn written_and_read_again_it_is_the_same() {
    let wif = good(WHOLE);
    let text = write(&wif);
    assert_eq!(good(&text), wif);
    assert_eq!(write(&good(&text)), text);
    assert!(text.contains("[CONTENTS]\r\nTEXT=true\r\n") && text.contains("PRIVATE pencil=true"));
    assert!(text.starts_with("; a towel\r\n[WIF]\r\nVersion=1.1\r\nDate=April 20, 1997\r\n"));
}

#[test]
fn the_draft_of_a_file() {
    let draft = good(WHOLE).draft().unwrap();
    assert_eq!((draft.ends(), draft.picks(), draft.shafts()), (8, 4, 4));
    assert_eq!(draft.drawdown().unwrap().rows(), "11001100/01100110/10111010/00000000");
    let (colours, warp, weft) = good(WHOLE).orders();
    assert_eq!(colours.iter().map(|c| c.rgb).collect::<Vec<_>>(), [[255; 3], [255, 0, 0], [0, 0, 255]]);
    assert_eq!((0..4).map(|t| warp.at(t)).collect::<Vec<_>>(), [0, 0, 1, 0]);
    assert_eq!((0..4).map(|t| weft.at(t)).collect::<Vec<_>>(), [2, 1, 2, 2]);
}

/// The two drafts of the notes on WIF, with a rising shed and a sinking one.
#[test]
fn rising_and_sinking() {
    let tied = "[WEAVING]\nShafts=4\nTreadles=2\nRising Shed=RISE\n[WARP]\nThreads=4\n[WEFT]\nThreads=4\n[THREADING]\n1=1\n2=2\n3=3\n4=4\n\
                [TIEUP]\n1=1,3\n2=2,4\n[TREADLING]\n1=1\n2=2\n3=1\n4=2\n";
    let planned = "[WEAVING]\nShafts=4\nRising Shed=RISE\n[WARP]\nThreads=4\n[WEFT]\nThreads=4\n[THREADING]\n1=1\n2=2\n3=3\n4=4\n\
                   [LIFTPLAN]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n";
    for (text, rise, rows) in [
        (tied, "true", "1010/0101/1010/0101"),
        (tied, "No", "0101/1010/0101/1010"),
        (planned, "ON", "1100/0110/0011/1001"),
        (planned, "0", "0011/1001/1100/0110"),
    ] {
        let draft = good(&text.replace("RISE", rise)).draft().unwrap();
        assert_eq!(draft.drawdown().unwrap().rows(), rows);
    }
}

#[test]
fn what_is_missing_is_made_good_where_it_can_be() {
    // No head, no contents, no numbers of threads, no tie-up, odd case and spaces, a draft from 0 with shafts from 0.
    let text = "[ threading ]\n0 = 0\n1 = 1\n2 = 0\n3 = 1\n[Treadling]\n 0=0\n1=1\n[weaving]\nShafts=2\nTreadles=2\n";
    let reading = read(text.as_bytes());
    assert_eq!(
        codes(&reading),
        ["wif-no-head", "wif-no-contents", "wif-no-tieup", "wif-from-zero", "wif-counted", "wif-counted"],
        "{}",
        shown(&reading)
    );
    let draft = reading.wif.unwrap().draft().unwrap();
    assert_eq!(draft.drawdown().unwrap().rows(), "1010/0101");
    // From 1, a 0 is nothing.
    let text = "[THREADING]\n1=1\n2=0\n[LIFTPLAN]\n1=1\n[WARP]\nThreads=3\n";
    assert_eq!(good(text).draft().unwrap().drawdown().unwrap().rows(), "100");
    // Both a treadling and a lift plan: the plan counts.
    let text = "[THREADING]\n1=1\n[LIFTPLAN]\n1=1\n2=\n[TREADLING]\n1=2\n[TIEUP]\n2=1\n[WEAVING]\nShafts=1\n";
    assert_eq!(good(text).draft().unwrap().drawdown().unwrap().rows(), "1/0");
}

#[test]
fn faults_say_where_and_what_is_right() {
    for (text, code, line, says) in [
        ("", "wif-not-wif", 0, "no section of a WIF"),
        ("hello\n", "wif-not-wif", 0, "no section of a WIF"),
        ("[WIF]\n[WARP]\nThreads=1000000000\n", "wif-too-many", 3, "more than can be woven"),
        ("[WARP]\nThreads=1e30\n", "wif-too-many", 2, "more than can be woven"),
        ("[THREADING]\n999999999=1\n", "wif-too-many", 2, "more than can be woven"),
        ("[THREADING]\n1=1\n2=x\n", "wif-value", 3, "2 = x cannot be read"),
        ("[THREADING]\n1=1,2,3000\n", "wif-value", 2, "1 = 1,2,3000 cannot be read"),
        ("[WARP]\n\nSpacing=NaN\n", "wif-value", 3, "Spacing = NaN cannot be read"),
        ("[WEFT]\nSpacing=inf\n", "wif-value", 2, "Spacing = inf cannot be read"),
        ("[WEFT SPACING]\n1=-4\n", "wif-value", 2, "1 = -4 cannot be read"),
        ("[WEAVING]\nRising Shed=maybe\n", "wif-value", 2, "Rising Shed = maybe cannot be read"),
        ("[WEAVING]\nShafts\n", "wif-value", 2, "\"Shafts\" has no ="),
        ("[COLOR PALETTE]\nRange=255,0\n", "wif-value", 2, "Range = 255,0 cannot be read"),
        ("[COLOR TABLE]\n1=red\n", "wif-value", 2, "1 = red cannot be read"),
        ("[THREADING]\n1=1\n", "wif-missing", 0, "no treadling and no lift plan"),
        ("[TREADLING]\n1=1\n", "wif-missing", 0, "no threading"),
    ] {
        let reading = read(text.as_bytes());
        let fault = reading.diagnostics.iter().find(|d| d.code == code);
        let fault = fault.unwrap_or_else(|| panic!("{text:?}: {:?}", reading.diagnostics));
        assert!(
            fault.is_error() && fault.message.contains(says) && reading.wif.is_none(),
            "{text:?}: {}",
            fault.message
        );
        let at = fault.span.as_ref().map_or(0, |s| text[..s.start].matches('\n').count() + 1);
        assert_eq!(at, line, "{text:?}");
    }
    let reading = read(b"[WIF]\n[WARP]\nThreads=24\nSpacing=NaN\n");
    insta::assert_snapshot!(shown(&reading));
}

#[test]
fn hostile_files_are_answered_at_once() {
    let mut many = String::from("[THREADING]\n");
    (0..400_000).for_each(|_| many.push_str("x=1\n"));
    let mut sections = String::from("[WIF]\n");
    (0..200_000).for_each(|n| sections.push_str(&format!("[S{n}]\n")));
    let long = format!("[THREADING]\n1={}\n", "1,".repeat(2_000_000));
    let digits = format!("[WARP]\nThreads={}\n", "9".repeat(1_000_000));
    let deep = "[".repeat(3_000_000);
    let huge = vec![b'='; 20_000_000];
    let started = std::time::Instant::now();
    for bytes in [
        many.as_bytes(),
        sections.as_bytes(),
        long.as_bytes(),
        digits.as_bytes(),
        deep.as_bytes(),
        &huge,
        b"\xFF\xFE\x00",
        b"\xC3\x28",
    ] {
        let reading = read(bytes);
        assert!(reading.wif.is_none() && !reading.diagnostics.is_empty());
        assert!(reading.diagnostics.iter().all(|d: &Diagnostic| d.message.len() < 300), "messages stay short");
        assert!(shown(&reading).len() < 100_000);
    }
    assert!(started.elapsed().as_secs() < 10, "{:?}", started.elapsed());
}

/// 1000 ends on 8 shafts: through the text and back, and its repeat found.
#[test]
fn a_thousand_ends_on_eight_shafts() {
    let point = |n: usize| if n % 14 < 8 { n % 14 + 1 } else { 15 - n % 14 };
    let threading: Vec<Set> = (0..1000).map(|e| Set::of(&[point(e)])).collect();
    let tieup: Vec<Set> = (0..8).map(|t| (0..4).map(|i| (t + i) % 8 + 1).collect()).collect();
    let treadling: Vec<Set> = (0..640).map(|k| Set::of(&[k % 8 + 1])).collect();
    let draft = Draft::new("points", 8, threading, Lifts::Treadled { tieup, treadling }, Shed::Sinking).unwrap();
    let mut colours = vec![];
    let warp = ColourOrder::parse("20 natural 4 indigo", &mut colours).unwrap();
    let weft = ColourOrder::parse("16 madder", &mut colours).unwrap();
    let wif = Wif::of_draft(&draft, &colours, &warp, &weft);
    let back = good(&write(&wif));
    assert_eq!(back, wif);
    assert_eq!(back.draft().unwrap(), draft);
    let (read_colours, read_warp, read_weft) = back.orders();
    let hues = |list: &[Colour], order: &ColourOrder| (0..1000).map(|t| list[order.at(t)].rgb).collect::<Vec<_>>();
    assert_eq!(
        (hues(&read_colours, &read_warp), hues(&read_colours, &read_weft)),
        (hues(&colours, &warp), hues(&colours, &weft))
    );
    assert_eq!(read_warp.repeat(), 24);
    let repeat = draft.repeat().unwrap();
    assert_eq!((repeat.ends(), repeat.picks()), (14, 8));
}

#[test]
fn named_weaves_travel() {
    for name in ["plain", "twill 2/2", "satin 8/3", "hopsack 3"] {
        let draft = Weave::parse(name).unwrap().draft();
        let one = ColourOrder::plain(0);
        let wif = Wif::of_draft(&draft, &[], &one, &one);
        assert_eq!(good(&write(&wif)).draft().unwrap(), draft);
    }
}

fn any_set() -> impl Strategy<Value = Set> {
    prop::collection::vec(1usize..=20, 0..4).prop_map(|n| Set::of(&n))
}
fn any_map<T: std::fmt::Debug>(value: impl Strategy<Value = T>) -> impl Strategy<Value = BTreeMap<u32, T>> {
    prop::collection::btree_map(1u32..60, value, 0..12)
}
fn any_word() -> impl Strategy<Value = String> {
    "[a-zA-Zé€][a-zA-Z0-9 =,é;]{0,12}[a-z]"
}

prop_compose! {
    fn any_threads()(
        threads in prop::option::of(60u32..90), spacing in prop::option::of(0.0..900.0f64), symbol in prop::option::of(any_word()),
        zoom in prop::option::of(-9i64..9), entries in prop::option::of(0u32..99), table in any_map(any_word()),
        spacings in any_map(0.0..1e5f64), thicknesses in any_map(0.0..9.0f64), zooms in any_map(0i64..99),
        colours in any_map((0u32..99, prop::option::of([0i64..999, 0..999, 0..999])).prop_map(|(index, rgb)| Hue { index, rgb })),
    ) -> clothwright::weave::wif::Threads {
        clothwright::weave::wif::Threads {
            threads, spacing, symbol, spacing_zoom: zoom, symbol_entries: entries, symbol_table: table.clone(), spacings,
            thicknesses, thickness_zooms: zooms, colours, symbols: table, units: Some(Units::Inches), ..Default::default()
        }
    }
}

prop_compose! {
    fn any_wif()(
        warp in any_threads(), weft in any_threads(), tieup in any_map(any_set()), mut threading in any_map(any_set()),
        treadling in any_map(any_set()), mut liftplan in any_map(any_set()), notes in any_map(any_word()), rising in prop::option::of(any::<bool>()),
        kept in any_word(), title in any_word(), range in (0i64..5, 200i64..1000), colours in any_map([0i64..999, 0..999, 0..999].prop_map(Paint::Rgb)),
    ) -> Wif {
        threading.insert(1, Set::of(&[1]));
        liftplan.insert(1, Set::of(&[1]));
        Wif {
            text: vec![("Title".into(), title)], notes, shafts: Some(20), treadles: Some(90), rising,
            palette: Some(Palette { entries: None, form: Form::Rgb, range }), colours, warp, weft, tieup, threading, treadling, liftplan,
            kept: vec![(format!("PRIVATE {}", kept.replace(';', ".")), vec![("k".into(), Some(kept))])], ..Wif::default()
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_file_comes_back(wif in any_wif()) {
        let text = write(&wif);
        let reading = read(text.as_bytes());
        prop_assert!(!any_error(&reading.diagnostics), "{}", shown(&reading));
        prop_assert_eq!(reading.wif.unwrap(), wif);
    }

    #[test]
    fn any_bytes_are_answered(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let reading = read(&bytes);
        prop_assert!(reading.wif.is_none() == reading.diagnostics.iter().any(|d| d.severity == Severity::Error));
        shown(&reading);
    }

    /// A good file with some bytes changed, cut or doubled: no panic, and what is still read is written and read the same.
    #[test]
    fn spoilt_files_are_answered(at in prop::collection::vec((0usize..1600, any::<u8>(), 0u8..3), 1..12)) {
        let mut bytes = WHOLE.as_bytes().to_vec();
        for (place, byte, how) in at {
            let place = place % bytes.len();
            match how {
                0 => bytes[place] = byte,
                1 => { bytes.remove(place); }
                _ => bytes.insert(place, byte),
            }
        }
        let reading = read(&bytes);
        shown(&reading);
        if let Some(wif) = reading.wif {
            let again = read(write(&wif).as_bytes());
            prop_assert_eq!(again.wif, Some(wif), "{}", write(&read(&bytes).wif.unwrap()));
        }
    }
}
