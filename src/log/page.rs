//! The manual page of the log, from the table of kinds. Text only; writes no file.

use super::kinds::{FIELDS, Field, Form, KINDS, Kind};

const HEAD: &str = r#"# The bench log

The log stands beside the plan: `my-plan.toml` has `my-plan.log`, begun with the first entry. Write down what you weighed, counted, broke
and wove, with units as in the plan; the program learns from it and warns you in time. This page is written from the program's own table.

    clothwright log my-plan.toml add skein bobbin=1 mass="1.62 g" counted="31 m" after_washing="30.2 m"
    clothwright log my-plan.toml add bobbin bobbin=1 mass="74 g" check_length="10 m" check_mass="0.58 g" use=warp
    clothwright log my-plan.toml add warp threads=850 wound="3.40 m" in_reed="69.7 cm"
    clothwright log my-plan.toml add weft mass="150 g"
    clothwright log my-plan.toml add woven woven="20.5 cm" weft_left="139 g"
    clothwright log my-plan.toml add minutes step=weaving time="45 min" done_length="10 cm"

| command | does |
| --- | --- |
| `log PLAN add KIND field=value …` | keeps an entry, and tells at once what it brings up: a bobbin not like the others, picks that creep, weft that will not reach. `--at "2031-05-01 14:30"` says when it happened; now, if not said. Without fields it lists those of the kind |
| `log PLAN list` | the entries that stand |
| `log PLAN fix NUMBER field=value …` | corrects an entry; the old one is kept and the correction points at it. `field=` empties one |
| `log PLAN undo [NUMBER]` | takes an entry back, or the last one; an undo can be undone |
| `log PLAN import FILE.csv`, `export FILE.csv` | reads and writes all entries; what is known already is left |
| `log PLAN card FILE.pdf` | sample cards to print and to wind the yarn on |
| `log PLAN learned` | your own figures with their ranges, against what was planned; how many more readings they want; what looks odd |
| `log PLAN ahead` | will fibre, warp, weft and time last, and what can be done; hours left and the day it will be done; which bobbin goes where. `--by 2031-06-01` asks for a day |
| `plan PLAN --with-log` | the whole plan with what was measured; so do `check`, `explain` and `outlook` |
| `draw bobbins PLAN -o bobbins.pdf`, `draw stripes …` | the evenness chart, and the order of bobbins that hides stripes |

`learned`, `ahead` and `plan` print JSON with `--format json`: `lessons`, `findings`, `odd`, `forecasts` with their `rescues`, `clock`,
`evenness`, `more`.

## How sure

Every figure starts at what the trade assumes, or at what the plan states with its doubt, and moves toward your readings by their number
and their spread. Ranges hold the truth eight times in ten; two thousand simulated makers are counted to see that they do. One reading says
nothing of how much they differ, and readings from one bobbin say little of the others: the words beside a figure tell which next reading
would help. Of draw-in, the part in per cent and the fixed part at the edges can only be told apart by swatches of two widths.

What an entry brings up is judged by those before it, so that a job in which nothing is wrong gives one false call of a kind in twenty jobs.

## Will it last

- **Fibre** needs `fibre.on_hand` in the plan, fibre weighed at its stages, and bobbins. It is asked until the warp is on.
- **Warp** needs `warp` with `threads` and `wound`; with `in_reed` also whether the cloth will be wide enough.
- **Weft** needs `woven` with `weft_left`, weighed every ten or twenty centimetres. `weft` adds what was made ready.
- **Breaks** need `break_load` in `skein`: a kitchen scale and a hook, twenty from different bobbins. `gauge` says the length between the
  hands where it was not 50 cm.
- **Time** needs `minutes`, stops and all.

A way out is worked out through the whole plan again: a shorter tee is drafted and laid anew. The number before it is the chance in a
hundred that it lasts then.

## Kinds of entry

Fields in bold are needed. `note` takes words; a file of a `photo` is a path in the plan's folder.
"#;

/// The page.
pub fn page() -> String {
    let mut out = HEAD.to_string();
    for kind in KINDS {
        out += &section(kind);
    }
    out
}

fn section(kind: &Kind) -> String {
    let mut out = format!("\n### {}: {}\n\n| field | takes | what |\n| --- | --- | --- |\n", kind.name, kind.words);
    for name in kind.fields() {
        let Some(field) = FIELDS.iter().find(|field| field.name == name) else { continue };
        let shown = if kind.needs.contains(&name) { format!("**{name}**") } else { name.to_string() };
        out += &format!("| {shown} | {} | {} |\n", takes(field), field.words);
    }
    out
}

fn takes(field: &Field) -> String {
    let one = match field.form {
        Form::Quantity(kind) => {
            let units: Vec<&str> =
                kind.units().iter().map(|unit| unit.name).filter(|name| !name.is_empty()).take(4).collect();
            if units.is_empty() { kind.words().to_string() } else { format!("{}: {}", kind.words(), units.join(", ")) }
        }
        Form::Words => "words".into(),
        Form::OneOf(words) => words.join(", "),
    };
    if field.many { format!("{one}; several parted by `;`") } else { one }
}
