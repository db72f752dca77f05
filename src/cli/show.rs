//! Words and columns of the terminal's pages.

use crate::chain::keys::ALL;
use crate::checks::Severity;
use crate::checks::mend::Mend;
use crate::outlook::outcome::Verdict;
use crate::units::show::{self, Style};
use anstyle::{AnsiColor, Style as Ink};

/// Heading.
pub const HEAD: Ink = Ink::new().bold();
/// What can be passed over.
pub const FAINT: Ink = Ink::new().dimmed();

/// Ink of a severity.
pub fn ink(severity: Severity) -> Ink {
    match severity {
        Severity::Fail => AnsiColor::Red.on_default().bold(),
        Severity::Warn => AnsiColor::Yellow.on_default().bold(),
        Severity::Note => AnsiColor::Cyan.on_default(),
    }
}

/// Text in an ink.
pub fn inked(ink: Ink, text: &str) -> String {
    format!("{ink}{text}{ink:#}")
}

/// Words broken to a width, every line after the first indented.
pub fn wrapped(text: &str, width: usize, indent: usize) -> String {
    let mut out = String::new();
    let mut column = 0;
    for word in text.split(' ') {
        let long = word.chars().count();
        if column > 0 && column + 1 + long > width {
            out.push('\n');
            out.push_str(&" ".repeat(indent));
            column = 0;
        } else if column > 0 {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += long;
    }
    out
}

/// A mend in words: `set cloth.firmness to 64 % (from 70 %)`.
pub fn mend(mend: &Mend, style: Style) -> String {
    let turn = |m: &crate::checks::mend::Move| {
        let unit = ALL[m.knob.slot as usize].unit;
        let text = |value| show::quantity(unit.scale.to_si(value), &unit, style);
        format!("set {} to {} (now {})", m.knob.path, text(m.to), text(m.from))
    };
    mend.moves.iter().map(turn).collect::<Vec<_>>().join(" and ")
}

/// A verdict with its mends, as lines.
pub fn verdict(verdict: &Verdict, style: Style) -> String {
    let head = inked(ink(verdict.severity), &format!("{:4}", verdict.severity.word()));
    let mut out = format!("  {head}  {}  {}\n", verdict.code, "");
    out = out.trim_end().to_string() + "\n";
    out += &format!("        {}\n", wrapped(&verdict.message, 92, 8));
    // three of one knob; a pair that was asked for always
    let shown = verdict.mends.iter().enumerate().filter(|(at, mend)| *at < 3 || mend.moves.len() > 1);
    for (at, one) in shown {
        let word = if at == 0 { "mend:" } else { "  or:" };
        out += &format!("        {} {}\n", inked(HEAD, word), wrapped(&mend(one, style), 86, 14));
    }
    if !verdict.keys.is_empty() {
        out += &format!("        {} {}\n", inked(HEAD, "turn:"), verdict.keys.join(", "));
    }
    out
}
