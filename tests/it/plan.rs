//! The plan as a person meets it: what is read, and what is said about mistakes, as whole text.

mod edits;
mod manual;

use clothwright::diag::{self, Look};
use clothwright::plan::{self, Files, Plan};
use clothwright::trade::body::Group;
use clothwright::units::show::Style;
use clothwright::units::*;
use proptest::prelude::*;

/// The demo plan of an invented place.
pub const TERN_BAY: &str = include_str!("tern_bay.toml");

fn files() -> Files {
    let mut files = Files::default();
    files.insert("tern.svg", "<svg/>");
    files.insert("my-garden.csv", "date,least,greatest\n");
    files
}

fn read(text: &str) -> Plan {
    let (plan, found) = plan::read(text, &files());
    assert!(found.is_empty(), "{}", diag::render(&found, text, "plan.toml", Look::Plain));
    plan.expect("a plan without errors")
}

/// What a person sees, without trailing blanks.
fn said(text: &str) -> String {
    let (_, found) = plan::read(text, &files());
    diag::render(&found, text, "plan.toml", Look::Plain)
}

/// A plan that lacks nothing, to which `more` is added.
fn with(more: &str) -> String {
    format!("fibre.kind = \"upland cotton\"\ngarment = {{ kind = \"tee\", body = {{ chest = \"98 cm\" }} }}\n{more}\n")
}

/// What is said of the lines added by [`with`], codes only.
fn codes(more: &str) -> Vec<&'static str> {
    let text = with(more);
    plan::read(&text, &files()).1.iter().map(|d| d.code).collect()
}

#[test]
fn the_demo_plan_is_read_in_full() {
    let plan = read(TERN_BAY);
    assert_eq!((plan.title(), plan.style()), ("Tern Bay print tee", Style::Metric));
    let staple = plan.quantity::<Length>("fibre.length").unwrap();
    assert!((staple.low.get(&MM) - 25.0).abs() < 1e-9 && (staple.high.get(&MM) - 29.0).abs() < 1e-9);
    assert!((plan.quantity::<Micronaire>("fibre.fineness").unwrap().middle.get(&MIC) - 4.3).abs() < 1e-12);
    assert!(plan.quantity::<LinearDensity>("fibre.fineness").is_none());
    assert!(plan.is_auto("yarn.warp.count") && plan.is_auto("cloth.sett") && !plan.is_auto("cloth.mass"));
    assert_eq!(plan.choice("yarn.weft.same_as"), Some("warp"));
    assert_eq!(plan.choice("cloth.picks"), Some("balanced"));
    assert_eq!(plan.whole("loom.heddle.heddles"), Some(2));
    assert_eq!(plan.typed("fibre.losses.ginning_keeps"), Some("34 % (28..38)"));
    let span = plan.span("garment.body.chest").unwrap();
    assert_eq!(&TERN_BAY[span], "\"98 cm\"");
    assert_eq!(plan.text("print.artwork"), Some("tern.svg"));
    assert!(plan.file("tern.svg").is_some() && plan.file("other.svg").is_none());
    assert_eq!(plan.date("season.start").map(|day| day.to_string()).as_deref(), Some("2026-04-20"));
    assert!(plan.quantity::<Rotation>("spinner.motor.no_load").is_some());
    let sections: Vec<&str> = plan.sections().into_iter().map(|(section, _)| section).collect();
    assert_eq!(sections, ["", "fibre", "yarn", "cloth", "garment", "spinner", "loom", "print", "season"]);
}

#[test]
fn forms_that_mean_what_they_say() {
    let plan = read(&with(
        "yarn.warp = { count = \"20/2 Ne\", plies = 2, twist = \"4.2 TM\" }\ncloth.picks.on_loom = \"12 /cm\"\n",
    ));
    assert_eq!(plan.strand("yarn.warp.count"), Some((text::Strand::Single, Some(2))));
    assert!(plan.quantity::<TwistFactor>("yarn.warp.twist").is_some());
    assert!(plan.quantity::<PerLength>("yarn.warp.twist").is_none());
    assert!(plan.quantity::<PerLength>("cloth.picks.on_loom").is_some() && plan.choice("cloth.picks").is_none());
    let plan = read(&with(
        "fibre.yield.bolls_per_plant = 15\nspinner.pulleys.on_hand = [\"12 mm\", \"1/2 in\"]\nseason.start = 2026-04-20",
    ));
    assert_eq!(plan.quantity::<Number>("fibre.yield.bolls_per_plant").map(|n| n.middle.to_si()), Some(15.0));
    assert_eq!(plan.list("spinner.pulleys.on_hand").len(), 2);
    assert!(plan.date("season.start").is_some());
    let start = "fibre.kind = \"flax line\"\n[garment]\nkind = \"tee\"\nbody.start = \"women p50\"\n";
    assert_eq!(read(start).usual_size(), Some((Group::Women, 50.0)));
    let pieces = "money = \"EUR\"\nfibre.kind = \"fine wool\"\ngarment.kind = \"pieces\"\n[[garment.piece]]\nname = \"pocket\"\nwidth = \"20 cm\"\nlength = \"9 1/2 in\"\nhow_many = 2\n[[loom.stock]]\nname = \"1x4\"\nlength = \"8 ft\"\nprice = 4.5\n";
    let plan = read(pieces);
    assert_eq!((plan.pieces().len(), plan.pieces()[0].how_many), (1, 2));
    assert!((plan.pieces()[0].length.unwrap().middle.get(&CM) - 24.13).abs() < 1e-9);
    assert_eq!((plan.stock()[0].price, plan.stock()[0].section), (Some(4.5), "board"));
}

#[test]
#[should_panic(expected = "is not a key of the plan")]
fn a_path_that_is_no_key_is_a_slip_in_the_program() {
    let _ = read(TERN_BAY).quantity::<Length>("garment.lenght");
}

#[test]
fn five_mistakes_five_messages_in_one_go() {
    let text = "\
[fibre]
kind = \"upland coton\"
losses = { ginning_keeps = \"140 %\" }
[garment]
kind = \"tee\"
length = 66
body = { chesst = \"98 cm\", head = \"57 kg\" }
";
    assert_eq!(
        said(text),
        "\
error[unknown-word]: `upland coton` is not one of the words `kind` takes
 --> plan.toml:2:8
  |
2 | kind = \"upland coton\"
  |        ^^^^^^^^^^^^^^ did you mean `upland cotton`?
  |
  = takes: \"upland cotton\", \"sea island cotton\", \"brown cotton\", \"fine wool\", \"medium wool\", \"coarse wool\", \"flax line\" or \"flax tow\"

error[out-of-range]: `ginning_keeps` cannot be 140 %: at most 100 %
 --> plan.toml:3:28
  |
3 | losses = { ginning_keeps = \"140 %\" }
  |                            ^^^^^^^
  |
  = takes: a share in %, 1 to 100 %

error[no-unit]: 66 of what? `length` takes a length with its unit, in quotes
 --> plan.toml:6:10
  |
6 | length = 66
  |          ^^ did you mean `\"66 cm\"`?
  |
  = takes: a length in m, cm, mm, um, km, in, ft or yd, 10 to 250 cm

error[unknown-key]: [garment.body] has no key `chesst`
 --> plan.toml:7:10
  |
7 | body = { chesst = \"98 cm\", head = \"57 kg\" }
  |          ^^^^^^ did you mean `chest`?
  |
  = takes: across_back, arm_length, back_waist, chest, hand, head, hip, nape_height, neck, neck_base, shoulder_breadth, shoulder_length, start, stature, upper_arm, waist or wrist

error[wrong-unit]: `head`: `kg` is a mass, and a length is wanted
 --> plan.toml:7:39
  |
7 | body = { chesst = \"98 cm\", head = \"57 kg\" }
  |                                       ^^
  |
  = takes: a length in m, cm, mm, um, km, in, ft or yd, 400 to 720 mm
"
    );
}

#[test]
fn quotes_forgotten_and_brackets_left_open() {
    assert_eq!(
        said("[fibre]\nkind = upland cotton\n[garment\nkind = \"tee\"\n"),
        "\
error[unquoted]: a quantity or a word stands in quotes
 --> plan.toml:2:8
  |
2 | kind = upland cotton
  |        ^^^^^^^^^^^^^ did you mean `\"upland cotton\"`?

error[syntax]: a `]` is missing behind the name of the section
 --> plan.toml:3:9
  |
3 | [garment
  |         ^
"
    );
    assert_eq!(
        said("title = \"tee\n"),
        "\
error[syntax]: the closing quote is missing
 --> plan.toml:1:13
  |
1 | title = \"tee
  |             ^
"
    );
}

#[test]
fn keys_that_cannot_both_be_meant() {
    let text = "\
[fibre]
kind = \"fine wool\"
fineness = \"4.3 mic\"
losses.ginning_keeps = \"34 %\"
[yarn.warp]
count = \"20/2 Ne\"
plies = 3
[yarn.weft]
same_as = \"warp\"
count = \"30 tex\"
[garment]
kind = \"towel\"
length = \"70 cm\"
finished = { width = \"42 cm\" }
[loom]
heddle = { sett = \"10 /cm\", blade = \"1.9 mm\" }
";
    assert_eq!(
        said(text),
        "\
error[wrong-measure]: micronaire is measured on cotton only
 --> plan.toml:3:12
  |
3 | fineness = \"4.3 mic\"
  |            ^^^^^^^^^
  |
  = help: for fine wool write for example `fineness = \"24 um\"`

warning[not-used]: `ginning_keeps` is not used: it belongs to cotton, and the fibre is fine wool
 --> plan.toml:4:24
  |
4 | losses.ginning_keeps = \"34 %\"
  |                        ^^^^^^

error[plies-disagree]: `20/2 Ne` has 2 plies, and `plies` says 3
 --> plan.toml:7:9
  |
7 | plies = 3
  |         ^ did you mean `2`?

error[either-or]: the weft is the same as the warp, and has a `count` of its own
  --> plan.toml:10:9
   |
10 | count = \"30 tex\"
   |         ^^^^^^^^
   |
   = help: keep `same_as`, or give the weft all its own keys

warning[not-used]: `length` is not used: a towel is as long as `finished` says
  --> plan.toml:13:10
   |
13 | length = \"70 cm\"
   |          ^^^^^^^
   |
   = help: write `finished = { length = \"70 cm\" }`

error[missing-key]: `garment.finished.length` is missing: a towel is planned from its finished size
  --> plan.toml:14:1
   |
14 | finished = { width = \"42 cm\" }
   | ^^^^^^^^
   |
   = takes: a length in m, cm, mm, um, km, in, ft or yd, 1 to 1000 cm
   = help: for example: finished = { length = \"75 cm\" } below [garment]

error[either-or]: `sett` is a heddle you have, `blade` one to be built: the pitch cannot be both
  --> plan.toml:16:37
   |
16 | heddle = { sett = \"10 /cm\", blade = \"1.9 mm\" }
   |                                     ^^^^^^^^
   |
   = help: keep `sett`, or keep `blade` and let the gap follow from the cloth
"
    );
}

#[test]
fn an_empty_plan_says_what_it_needs() {
    assert_eq!(
        said(""),
        "\
error[missing-key]: `fibre.kind` is missing: what is to be spun decides nearly everything
 |
 = takes: \"upland cotton\", \"sea island cotton\", \"brown cotton\", \"fine wool\", \"medium wool\", \"coarse wool\", \"flax line\" or \"flax tow\"
 = help: for example: kind = \"upland cotton\" below [fibre]

error[missing-key]: `garment.kind` is missing: say what is to be made
 |
 = takes: \"tee\", \"tote\", \"apron\", \"towel\", \"scarf\" or \"pieces\"
 = help: for example: kind = \"tee\" below [garment]
"
    );
}

#[test]
fn each_kind_of_mistake_has_its_name() {
    for (more, code) in [
        ("title = 3", "wrong-type"),
        ("title = \"a\\u0007b\"", "control-character"),
        ("show = \"imperial\"", "unknown-word"),
        ("cloth.mass = \"185 g/cm2\"", "unknown-unit"),
        ("cloth.mass = 185", "no-unit"),
        ("cloth.firmness = \"0.7\"", "no-unit"),
        ("cloth.firmness = nan", "no-unit"),
        ("cloth.width = \"59 ± 2 cm\"", "no-doubt-taken"),
        ("cloth.relax = \"4 % (5..9)\"", "bad-doubt"),
        ("cloth.relax = \"auto\"", "not-auto"),
        ("cloth.sett = \"0 /cm\"", "out-of-range"),
        ("cloth.sett = \"-3 /cm\"", "negative"),
        ("cloth.sett = \"inf /cm\"", "not-a-number"),
        ("cloth.sett = \"1e99 /cm\"", "absurd-magnitude"),
        ("cloth.shrink = \"8 %\"", "wrong-type"),
        ("cloth.weave = \"twil 2/2\"", "unknown-weave"),
        ("cloth.warp_colours = \"24 natural, 6 purpel\"", "bad-colours"),
        ("cloth.draft = \"none.wif\"", "missing-file"),
        ("season.temperatures = \"../../etc/passwd\"", "bad-file-name"),
        ("season.temperatures = \"/etc/passwd\"", "bad-file-name"),
        ("season.start = \"2026-02-30\"", "bad-date"),
        ("season = { start = \"2026-05-01\", frost = \"2026-04-01\" }", "wrong-order"),
        ("yarn.warp.count = \"20/2 tex\"", "which-strand"),
        ("yarn.warp.plies = 99", "out-of-range"),
        ("yarn.warp.plies = \"2\"", "wrong-type"),
        ("yarn.warp.ply_twist = \"500 /m\"", "not-used"),
        ("fibre.length = \"27,5 mm\"", "decimal-comma"),
        ("spinner.bobbin = { core = \"60 mm\", flange = \"50 mm\" }", "wrong-order"),
        ("spinner.drive = \"both\"", "missing-key"),
        ("loom.beam = { section = \"tube\" }", "missing-key"),
        ("loom.heddle = { shafts = 4 }", "not-used"),
        ("loom.heddle = { sett = \"10 /cm\" }\ncloth.sett = \"13 /cm\"", "sett-disagrees"),
        ("garment.piece = 4", "duplicate"),
        ("[[print.ink]]\ncolour = \"bleu\"", "unknown-colour"),
        ("[[loom.stock]]\nname = \"1x4\"", "missing-key"),
        ("[[loom.stock]]\nname = \"1x4\"\nlength = \"8 ft\"\nprice = 4.5", "no-currency"),
        ("[[spinner.bought]]\nmark = \"13\"\nprice = 12", "no-currency"),
        ("money = \"EUR\"", "not-used"),
        ("money = \"EUR\"\n[[loom.bought]]\nmark = \"C4\"", "missing-key"),
        ("money = \"EUR\"\n[[spinner.bought]]\nprice = 12", "missing-key"),
        ("money = \"EUR\"\n[[spinner.bought]]\nmark = \"13\"\nprice = -2", "out-of-range"),
        (
            "money = \"EUR\"\n[[loom.bought]]\nmark = \"C4\"\nprice = 1\n[[loom.bought]]\nmark = \"C4\"\nprice = 2",
            "either-or",
        ),
        (
            "spinner.motor = { rated = \"18 V\", no_load = \"7200 rpm\", no_load_current = \"0.1 A\", resistance = \"5 ohm\", stall_current = \"20 A\" }\nspinner.supply = { voltage = \"16 V\", current = \"3 A\" }",
            "motor-disagrees",
        ),
    ] {
        let code = if code == "duplicate" { "syntax" } else { code };
        assert_eq!(codes(more), [code], "{more}");
    }
}

#[test]
fn what_is_too_much_is_refused_at_once() {
    let long = "#".repeat(plan::LONGEST + 1);
    let (plan, found) = plan::read(&long, &Files::default());
    assert!(plan.is_none() && found.len() == 1 && found[0].code == "too-long");
    for hostile in [
        "=\n".repeat(150_000),
        "[".repeat(900_000),
        format!("a = {}", "[".repeat(900_000)),
        format!("a = {}", "{a=".repeat(300_000)),
        format!("{} = 1", "a.".repeat(300_000) + "a"),
        format!("[{}]", "a.".repeat(300_000) + "a"),
        "[[garment.piece]]\n".repeat(50_000),
        "[[loom.stock]]\nname='x'\n".repeat(40_000),
        (0..60_000).map(|i| format!("k{i} = 1\n")).collect::<String>(),
        format!("title = \"{}\"", "x".repeat(1_000_000)),
        format!("fibre.length = \"{}\"", "9".repeat(1_000_000)),
        format!("[fibre]\nkind = \"{}", "\\u0000".repeat(150_000)),
        "\r".repeat(300_000),
        "é".repeat(500_000),
    ] {
        let (plan, found) = plan::read(&hostile, &Files::default());
        assert!(
            plan.is_none() && !found.is_empty() && found.len() <= diag::MOST + 1,
            "{}",
            &hostile[..20.min(hostile.len())]
        );
        let said = diag::render(&found, &hostile, "plan.toml", Look::Plain);
        assert!(said.len() < 200_000 && !said.contains('\u{7}'), "{} bytes said", said.len());
    }
}

/// The demo plan with some bytes changed, cut or doubled.
fn mutated() -> impl Strategy<Value = String> {
    let cut = (0..TERN_BAY.len(), 0..40usize, "[ -~\n±½é]{0,12}");
    proptest::collection::vec(cut, 1..6).prop_map(|cuts| {
        let mut text = TERN_BAY.to_string();
        for (at, length, put) in cuts {
            let at = text.floor_char_boundary(at.min(text.len()));
            let end = text.floor_char_boundary((at + length).min(text.len())).max(at);
            text.replace_range(at..end, &put);
        }
        text
    })
}

fn is_told(text: &str) {
    let (plan, found) = plan::read(text, &files());
    assert_eq!(plan.is_none(), diag::any_error(&found), "{text}");
    for one in &found {
        assert!(one.span.as_ref().is_none_or(|span| text.get(span.clone()).is_some()), "{one:?}");
        assert!(!one.message.is_empty() && !one.code.contains(|c: char| !c.is_ascii_lowercase() && c != '-'));
    }
    let (again, same) = plan::read(text, &files());
    assert_eq!(found, same);
    assert!(plan.is_none() || plan.zip(again).is_some_and(|(a, b)| a.asks_the_same(&b)));
    let _ = diag::render(&found, text, "plan.toml", Look::Coloured);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn a_spoilt_plan_is_told_and_never_panics(text in mutated()) {
        is_told(&text);
    }

    #[test]
    fn any_text_is_told_and_never_panics(text in "\\PC{0,300}") {
        is_told(&text);
    }

    #[test]
    fn any_bytes_are_told_and_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        is_told(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn any_value_of_any_key_is_told(at in 0..plan::keys::TABLE.keys.len(), value in "[0-9]{1,3}|\"[ -~±½]{0,20}\"|\\[[ -~]{0,10}\\]|\\{[ -~]{0,10}\\}|true|2026-04-20") {
        let path = plan::keys::TABLE.keys[at].path.replace("[]", "");
        is_told(&with(&format!("{path} = {value}")));
    }
}

#[test]
fn a_number_is_phrased_as_the_person_would() {
    let plan = read(&with("yarn.warp = { count = \"20 Ne\", twist = \"4.2 TM\" }\ncloth.width = \"23 1/2 in\""));
    let phrase = |path, kind, si| plan.phrase(path, kind, si);
    assert_eq!(phrase("yarn.warp.count", Kind::LinearDensity, Q::new(52.137, &TEX).to_si()), "11.33 Ne");
    assert_eq!(phrase("yarn.warp.twist", Kind::TwistFactor, Q::new(4.0, &TM).to_si()), "4 TM");
    assert_eq!(phrase("cloth.width", Kind::Length, 0.6), "23.62 in");
    assert_eq!(phrase("cloth.firmness", Kind::Ratio, 0.72), "72 %");
    assert_eq!(phrase("spinner.pace", Kind::Speed, 1.6 / 60.0), "1.6 m/min");
    assert_eq!(phrase("loom.stock[].price", Kind::Money, 12_345.6), "12350");
    assert_eq!(phrase("print.place.across", Kind::Length, -0.04), "-4 cm");
}

/// What fuzzing starts from and what it found, told again.
#[test]
#[expect(clippy::disallowed_methods, reason = "the corpus lies in files")]
fn the_corpus_is_told() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/fuzz/corpus/plan");
    let mut told = 0;
    for entry in std::fs::read_dir(folder).expect("the corpus is there") {
        let bytes = std::fs::read(entry.expect("an entry").path()).expect("a file of the corpus");
        is_told(&String::from_utf8_lossy(&bytes));
        told += 1;
    }
    let apron = include_str!("../../fuzz/corpus/plan/apron.toml");
    assert!((self::read(apron).quantity::<Length>("loom.heddle.eye").unwrap().middle.get(&MM) - 1.5875).abs() < 1e-9);
    assert!(told >= 6, "{told} files");
}

/// A mend names the key it turns: it must be one.
#[test]
fn the_knobs_of_mends_are_keys() {
    for knob in clothwright::checks::knobs::ALL {
        assert!(plan::keys::TABLE.key(knob.path).is_some(), "{}", knob.path);
    }
}
