//! An entry before it is written: the fields as typed, and the reading of them.

use super::kinds::{Field, Form, Kind, field_named, kind, near_kind};
use super::moment::Moment;
use super::trouble::{Fault, Result, Trouble};
use crate::units::near::near;
use crate::units::text::read;

/// The longest words a field holds, in letters.
const LONGEST: usize = 4000;
/// The most values one field holds.
const MOST_VALUES: usize = 1000;
/// Beyond these a quantity is a slip of the keyboard: in SI.
const GREATEST: f64 = 1e9;

/// An entry to be written.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Draft {
    /// Name of the kind.
    pub kind: String,
    /// When it happened; when it is written, if none.
    pub happened: Option<Moment>,
    /// Field and text. The same field again adds a value to those that take several.
    pub fields: Vec<(String, String)>,
    /// A name the caller gives this entry, so that sending it twice writes it once.
    pub mark: Option<String>,
}

/// One value of one field.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// In SI; none for words.
    pub si: Option<f64>,
    pub typed: String,
}

/// Field, place among its values, value.
pub(super) type Figures = Vec<(&'static str, Vec<Figure>)>;

impl Draft {
    /// An entry of this kind with nothing in it.
    pub fn new(kind: &str) -> Self {
        Draft { kind: kind.to_string(), ..Draft::default() }
    }
    /// With one more field.
    pub fn with(mut self, field: &str, text: &str) -> Self {
        self.fields.push((field.to_string(), text.to_string()));
        self
    }
    /// With the moment it happened.
    pub fn at(mut self, happened: Moment) -> Self {
        self.happened = Some(happened);
        self
    }
    /// With a mark of the caller's.
    pub fn marked(mut self, mark: &str) -> Self {
        self.mark = Some(mark.to_string());
        self
    }

    /// Reads `field=text` words, as on a command line.
    ///
    /// # Errors
    /// [`Trouble::Entry`] when a word has no `=`.
    pub fn read(kind: &str, words: &[impl AsRef<str>]) -> Result<Self> {
        let mut draft = Draft::new(kind);
        let mut faults = Vec::new();
        for word in words {
            match word.as_ref().split_once('=') {
                Some((field, text)) => draft.fields.push((field.trim().to_string(), text.trim().to_string())),
                None => faults.push(Fault::new(None, format!("`{}` should be `field=value`", cut(word.as_ref())))),
            }
        }
        if faults.is_empty() { Ok(draft) } else { Err(Trouble::Entry(faults)) }
    }

    /// Its kind and figures, in the order of the kind's fields.
    pub(super) fn check(&self) -> std::result::Result<(&'static Kind, Figures), Vec<Fault>> {
        let Some(kind) = kind(&self.kind) else {
            let message = format!("`{}` is not a kind of entry", cut(&self.kind));
            return Err(vec![Fault::new(None, message).near(near_kind(&self.kind))]);
        };
        let mut faults = Vec::new();
        let mut figures: Figures = Vec::new();
        if let Some(mark) = &self.mark
            && (mark.is_empty() || mark.chars().count() > 80)
        {
            faults.push(Fault::new(None, "a mark has 1 to 80 letters"));
        }
        for (name, text) in &self.fields {
            match values(kind, name, text) {
                Err(fault) => faults.push(fault),
                Ok((field, mut list)) => match figures.iter_mut().find(|(n, _)| *n == field.name) {
                    None => figures.push((field.name, list)),
                    Some((_, had)) if field.many && had.len() + list.len() <= MOST_VALUES => had.append(&mut list),
                    Some(_) => faults.push(Fault::new(Some(field.name), "is given twice")),
                },
            }
        }
        for name in kind.needs {
            let said = self.fields.iter().any(|(n, _)| n == name);
            if !said && let Some(field) = field_named(name) {
                faults.push(Fault::new(Some(name), format!("is missing ({})", field.words)));
            }
        }
        if figures.is_empty() && faults.is_empty() {
            faults.push(Fault::new(None, format!("says nothing; it may hold {}", kind.takes.join(", "))));
        }
        figures.sort_by_key(|(name, _)| kind.fields().position(|f| f == *name));
        if faults.is_empty() { Ok((kind, figures)) } else { Err(faults) }
    }
}

/// The values in `text`, each sound.
fn values(kind: &Kind, name: &str, text: &str) -> std::result::Result<(&'static Field, Vec<Figure>), Fault> {
    let Some(field) = field_named(name).filter(|f| kind.fields().any(|n| n == f.name)) else {
        let message = format!("is not a field of {}", kind.name);
        return Err(Fault::new(Some(&cut(name)), message).near(near(name, kind.fields())));
    };
    let parts: Vec<&str> = if field.many { text.split(';').collect() } else { vec![text] };
    if parts.len() > MOST_VALUES {
        return Err(Fault::new(Some(field.name), format!("{} values are too many", parts.len())));
    }
    let figures: std::result::Result<Vec<Figure>, Fault> =
        parts.iter().map(|part| figure(field, part.trim())).collect();
    Ok((field, figures?))
}

fn figure(field: &'static Field, text: &str) -> std::result::Result<Figure, Fault> {
    let fault = |message: String| Fault::new(Some(field.name), message);
    if text.is_empty() {
        return Err(fault("is empty".into()));
    }
    let typed = text.to_string();
    match field.form {
        Form::Words if text.chars().count() > LONGEST => Err(fault(format!("is longer than {LONGEST} letters"))),
        Form::Words if text.contains('\0') => Err(fault("holds a letter that cannot be kept".into())),
        Form::Words => Ok(Figure { si: None, typed }),
        Form::OneOf(words) if words.contains(&text) => Ok(Figure { si: None, typed }),
        Form::OneOf(words) => {
            Err(fault(format!("`{}` is none of {}", cut(text), words.join(", ")))
                .near(near(text, words.iter().copied())))
        }
        Form::Quantity(dim) => {
            let reading = read(text, &[dim]).map_err(|f| fault(f.message).near(f.near))?;
            let si = reading.middle;
            // Kelvin are never negative, whatever the degrees.
            let least = if field.may_be_nothing { 0.0 } else { f64::MIN_POSITIVE };
            if !si.is_finite() || si > GREATEST {
                return Err(fault(format!("`{}` is beyond anything measured at a bench", cut(text))));
            }
            if si < least {
                return Err(fault(format!("`{}` must be more than nothing", cut(text))));
            }
            Ok(Figure { si: Some(si), typed })
        }
    }
}

/// The start of a text for a message.
fn cut(text: &str) -> String {
    let mut short: String = text.chars().take(40).filter(|c| !c.is_control()).collect();
    if text.chars().count() > 40 {
        short.push('…');
    }
    short
}

#[cfg(test)]
mod tests {
    use super::*;

    fn faults(draft: &Draft) -> String {
        draft.check().unwrap_err().iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn a_skein_as_typed_and_in_si() {
        let words = ["bobbin=3", "mass=12.5 g", "counted=240 m", "break_load=480 cN; 510 cN", "break_load=1 lbf"];
        let (kind, figures) = Draft::read("skein", &words).unwrap().check().map(|(k, f)| (k.name, f)).unwrap();
        assert_eq!(kind, "skein");
        assert_eq!(figures[1], ("mass", vec![Figure { si: Some(0.0125), typed: "12.5 g".into() }]));
        let loads = &figures[3].1;
        assert_eq!(loads.len(), 3);
        assert!((loads[2].si.unwrap() - 4.448).abs() < 1e-3 && loads[2].typed == "1 lbf");
    }

    #[test]
    fn faults_in_plain_words_all_at_once() {
        assert_eq!(faults(&Draft::new("skien")), "`skien` is not a kind of entry (did you mean `skein`?)");
        let bad = Draft::new("skein").with("mass", "12,5 g").with("conted", "3 m").with("counted", "-3 m");
        let all = faults(&bad);
        assert_eq!(all.lines().count(), 4, "{all}");
        assert!(all.contains("conted: is not a field of skein (did you mean `counted`?)"), "{all}");
        assert!(all.contains("bobbin: is missing (number of the bobbin)"), "{all}");
        assert!(
            faults(&Draft::new("fibre").with("stage", "cardin").with("after", "3 g"))
                .contains("did you mean `carding`")
        );
        assert!(faults(&Draft::new("knobs")).contains("says nothing"));
        assert!(faults(&Draft::new("note").with("note", &"x".repeat(5000))).contains("longer than"));
        assert!(faults(&Draft::new("bobbin").with("bobbin", "1").with("mass", "0 g")).contains("more than nothing"));
        assert!(
            faults(&Draft::new("bobbin").with("bobbin", "1").with("mass", "1 g").with("mass", "2 g")).contains("twice")
        );
    }

    #[test]
    fn cold_days_are_sound() {
        let cold = Draft::new("temperature").with("low", "-12 °C").with("high", "30 °F");
        let (_, figures) = cold.check().unwrap();
        assert!((figures[0].1[0].si.unwrap() - 261.15).abs() < 1e-9);
    }
}
