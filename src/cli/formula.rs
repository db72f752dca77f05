//! `formula`: the handbook in the terminal, and a calculator on its formulas.

use super::show::{FAINT, HEAD, inked, wrapped};
use super::{Answer, Ending, Format, pretty};
use crate::diag::near;
use crate::formulas::registry::{ArgInfo, Entry};
use crate::formulas::{TOPICS, all, find, sources};
use crate::units::show::number;
use crate::units::text;

/// The command.
pub fn formula(name: Option<&str>, inputs: &[String], format: Format) -> Answer {
    let Some(name) = name else { return Ok((list(format), Ending::Done)) };
    let Some(entry) = find(name) else {
        let close =
            near(name, all().map(Entry::name)).map_or(String::new(), |close| format!(" Did you mean `{close}`?"));
        return Err(format!("There is no formula `{name}`.{close} `clothwright formula` lists them all."));
    };
    if inputs.is_empty() {
        let text = if format == Format::Json { pretty(&json(entry)) } else { page(entry) };
        return Ok((text, Ending::Done));
    }
    work_out(entry, inputs, format)
}

fn list(format: Format) -> String {
    if format == Format::Json {
        return pretty(&all().map(json).collect());
    }
    let mut out = String::new();
    for topic in TOPICS {
        out += &format!("{}\n", inked(HEAD, topic.title));
        for entry in topic.entries {
            out += &format!("  {:28} {}\n", entry.name(), wrapped(entry.says(), 68, 31));
        }
        for solve in topic.solves {
            out += &format!("  {:28} {}\n", solve.name, wrapped(solve.says, 68, 31));
        }
        out.push('\n');
    }
    out
}

fn spaced(unit: &str) -> String {
    if unit.is_empty() { String::new() } else { format!(" {unit}") }
}

fn page(entry: &dyn Entry) -> String {
    let (letter, unit, _) = entry.gives();
    let mut out = format!(
        "{}\n  {}\n\n    {letter} = {}\n\n",
        inked(HEAD, entry.name()),
        wrapped(entry.says(), 96, 2),
        entry.text()
    );
    for arg in entry.takes() {
        let range = format!("{} to {}{}", number(arg.from), number(arg.to), spaced(arg.unit));
        out += &format!("    {:10} {}, {range}\n", arg.name, arg.kind.words());
    }
    out += &format!(
        "    {letter:10} comes out{}\n",
        if unit.is_empty() { " as a pure number".into() } else { format!(" in {unit}") }
    );
    let (source, evidence) = (entry.source(), entry.evidence());
    let place = if source.at.is_empty() { String::new() } else { format!(", {}", source.at) };
    out += &format!("\n  Who says so: {}{place} ({}).\n", wrapped(sources::title(source.key), 82, 2), evidence.words());
    let example: Vec<String> = entry.takes().iter().map(|arg| format!("{}=…", arg.name)).collect();
    out += &inked(FAINT, &format!("  Work it out: clothwright formula {} {}\n", entry.name(), example.join(" ")));
    out
}

fn json(entry: &dyn Entry) -> serde_json::Value {
    let (letter, unit, _) = entry.gives();
    let takes: Vec<_> = entry
        .takes()
        .iter()
        .map(|arg| serde_json::json!({ "letter": arg.name, "unit": arg.unit, "from": arg.from, "to": arg.to, "is": arg.kind.words() }))
        .collect();
    let source = entry.source();
    serde_json::json!({
        "name": entry.name(), "says": entry.says(), "text": entry.text(), "takes": takes,
        "gives": { "letter": letter, "unit": unit },
        "source": { "key": source.key, "at": source.at, "what": sources::title(source.key) }, "evidence": entry.evidence().words(),
    })
}

/// Reads the inputs, works the formula out, and says when an input is outside what the formula was made for.
fn work_out(entry: &dyn Entry, inputs: &[String], format: Format) -> Answer {
    let takes = entry.takes();
    let mut values: Vec<Option<f64>> = vec![None; takes.len()];
    for input in inputs {
        let (letter, typed) = input.split_once('=').ok_or_else(|| format!("`{input}` is not letter=value"))?;
        let at = takes.iter().position(|arg| arg.name == letter).ok_or_else(|| {
            let letters: Vec<&str> = takes.iter().map(|arg| arg.name).collect();
            format!("`{}` has no `{letter}`; it takes {}", entry.name(), letters.join(", "))
        })?;
        values[at] = Some(value(&takes[at], typed)?);
    }
    let missing: Vec<&str> =
        takes.iter().zip(&values).filter(|(_, value)| value.is_none()).map(|(arg, _)| arg.name).collect();
    if !missing.is_empty() {
        return Err(format!("`{}` also needs {}", entry.name(), missing.join(", ")));
    }
    let values: Vec<f64> = values.into_iter().flatten().collect();
    let result = entry.eval(&values);
    if !result.is_finite() {
        return Err(format!("`{}` has no value at these inputs.", entry.name()));
    }
    let outside: Vec<&str> = takes
        .iter()
        .zip(&values)
        .filter(|(arg, value)| !(arg.from..=arg.to).contains(*value))
        .map(|(arg, _)| arg.name)
        .collect();
    let (letter, unit, _) = entry.gives();
    if format == Format::Json {
        let out = serde_json::json!({ "name": entry.name(), "value": result, "unit": unit, "outside": outside });
        return Ok((pretty(&out), Ending::Done));
    }
    let mut out = format!("{letter} = {}{}\n", number(result), spaced(unit));
    for name in outside {
        out += &format!("Mind: {name} is outside the range this formula was made for.\n");
    }
    Ok((out, Ending::Done))
}

/// A number in the formula's own unit, or a quantity with its unit.
fn value(arg: &ArgInfo, typed: &str) -> Result<f64, String> {
    if let Ok(number) = typed.trim().parse::<f64>()
        && number.is_finite()
    {
        return Ok(number);
    }
    let reading =
        text::read(typed, &[arg.kind]).map_err(|fault| format!("{} = `{typed}`: {}", arg.name, fault.message))?;
    let unit = arg.kind.units().iter().find(|unit| unit.name == arg.unit).unwrap_or(&arg.kind.units()[0]);
    Ok(unit.scale.from_si(reading.middle))
}
