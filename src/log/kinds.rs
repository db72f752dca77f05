//! What can be logged: the kinds of entry and their fields, once, for the command line, the forms, the CSV header and the
//! cards. A field has one name and one dimension wherever it stands.

use crate::units::Kind as Dim;
use crate::units::near::near;

/// How a field is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// A quantity, above zero unless [`Field::may_be_nothing`].
    Quantity(Dim),
    /// Words, at most 4 000 letters.
    Words,
    /// One of these.
    OneOf(&'static [&'static str]),
}

/// A field.
#[derive(Debug, PartialEq)]
pub struct Field {
    pub name: &'static str,
    /// What a form asks.
    pub words: &'static str,
    pub form: Form,
    /// Several values, parted by `;`.
    pub many: bool,
    /// Zero is a sound value.
    pub may_be_nothing: bool,
}

/// A kind of entry.
#[derive(Debug, PartialEq)]
pub struct Kind {
    pub name: &'static str,
    pub words: &'static str,
    /// Names of fields without which it says nothing.
    pub needs: &'static [&'static str],
    /// Names of the others.
    pub takes: &'static [&'static str],
}

const fn field(name: &'static str, words: &'static str, form: Form) -> Field {
    Field { name, words, form, many: false, may_be_nothing: false }
}
const fn amount(name: &'static str, words: &'static str, dim: Dim) -> Field {
    field(name, words, Form::Quantity(dim))
}
const fn many(name: &'static str, words: &'static str, dim: Dim) -> Field {
    Field { many: true, ..amount(name, words, dim) }
}
const fn from_nothing(name: &'static str, words: &'static str, dim: Dim) -> Field {
    Field { may_be_nothing: true, ..amount(name, words, dim) }
}

/// Stages fibre passes.
pub const STAGES: &[&str] =
    &["picking", "ginning", "scouring", "retting", "breaking", "hackling", "carding", "combing", "spinning"];

/// Steps minutes are worked at: the stages and what follows them.
pub const STEPS: &[&str] = &[
    "picking",
    "ginning",
    "scouring",
    "retting",
    "breaking",
    "hackling",
    "carding",
    "combing",
    "spinning",
    "plying",
    "washing",
    "sizing",
    "warping",
    "threading",
    "weaving",
    "finishing",
    "sewing",
    "printing",
    "building",
    "sampling",
];

/// Every field, in the order of the CSV header.
pub static FIELDS: &[Field] = &[
    field("stage", "which stage", Form::OneOf(STAGES)),
    amount("before", "mass before the stage", Dim::Mass),
    from_nothing("after", "mass after it", Dim::Mass),
    from_nothing("humidity", "humidity of the room", Dim::Ratio),
    amount("bobbin", "number of the bobbin", Dim::Number),
    amount("mass", "mass", Dim::Mass),
    amount("counted", "length as counted", Dim::Length),
    amount("after_washing", "length after washing and drying", Dim::Length),
    amount("wraps", "wraps on a ruler", Dim::PerLength),
    amount("twist_set", "twist it was spun at", Dim::PerLength),
    many("twist", "twist counted", Dim::PerLength),
    many("break_load", "break loads", Dim::Force),
    amount("gauge", "length between the hands when it broke; 50 cm if not said", Dim::Length),
    amount("check_length", "length cut off to check", Dim::Length),
    amount("check_mass", "mass of that length", Dim::Mass),
    field("use", "what it is for", Form::OneOf(&["warp", "weft", "either"])),
    amount("warp", "number of the warp", Dim::Number),
    amount("threads", "threads in the warp", Dim::Number),
    amount("wound", "length of each thread, as wound", Dim::Length),
    amount("in_reed", "width in the heddle", Dim::Length),
    amount("width_on_loom", "width on the loom", Dim::Length),
    amount("width_off_loom", "width off the loom", Dim::Length),
    amount("width_washed", "width after washing", Dim::Length),
    amount("length_on_loom", "length on the loom, under tension", Dim::Length),
    amount("length_off_loom", "the same off the loom", Dim::Length),
    amount("length_washed", "the same after washing", Dim::Length),
    amount("picks_on_loom", "picks on the loom", Dim::PerLength),
    amount("picks_off_loom", "picks off the loom", Dim::PerLength),
    amount("picks_washed", "picks after washing", Dim::PerLength),
    amount("ends_on_loom", "ends on the loom", Dim::PerLength),
    amount("ends_off_loom", "ends off the loom", Dim::PerLength),
    amount("ends_washed", "ends after washing", Dim::PerLength),
    amount("warp_thread", "a warp thread pulled out, straight", Dim::Length),
    amount("warp_cloth", "the cloth it came from", Dim::Length),
    amount("weft_thread", "a weft thread pulled out, straight", Dim::Length),
    amount("weft_cloth", "the cloth it came from", Dim::Length),
    amount("picks", "picks counted on the loom", Dim::PerLength),
    from_nothing("woven", "length woven since the start, under tension", Dim::Length),
    from_nothing("weft_left", "mass of weft yarn not yet woven", Dim::Mass),
    from_nothing("ends", "ends broken", Dim::Number),
    field("where", "where", Form::Words),
    amount("brake", "mark of the brake knob", Dim::Number),
    amount("speed", "speed of the spindle", Dim::Rotation),
    from_nothing("voltage", "voltage", Dim::Voltage),
    amount("knob", "mark of the speed knob", Dim::Number),
    field("step", "which step", Form::OneOf(STEPS)),
    amount("time", "time worked, stops and all", Dim::Duration),
    amount("done_length", "length done", Dim::Length),
    amount("done_mass", "mass done", Dim::Mass),
    amount("done_number", "number done: ends, picks, seams", Dim::Number),
    from_nothing("low", "coldest of the day", Dim::Temperature),
    from_nothing("high", "warmest of the day", Dim::Temperature),
    field("file", "file of the photo, in the plan's folder", Form::Words),
    amount("positive_line", "finest line that printed whole", Dim::Length),
    amount("negative_line", "finest gap that stayed open", Dim::Length),
    amount("dot", "finest dot that printed", Dim::Length),
    amount("mesh", "mesh of the screen", Dim::PerLength),
    amount("strokes", "strokes of the squeegee", Dim::Number),
    field("note", "note", Form::Words),
];

/// Every kind of entry.
pub static KINDS: &[Kind] = &[
    Kind {
        name: "fibre",
        words: "fibre weighed at a stage",
        needs: &["stage", "after"],
        takes: &["before", "humidity", "note"],
    },
    Kind {
        name: "skein",
        words: "sample skein",
        needs: &["bobbin"],
        takes: &[
            "mass",
            "counted",
            "after_washing",
            "wraps",
            "twist_set",
            "twist",
            "break_load",
            "gauge",
            "humidity",
            "note",
        ],
    },
    Kind {
        name: "bobbin",
        words: "bobbin done",
        needs: &["bobbin", "mass"],
        takes: &["counted", "check_length", "check_mass", "use", "note"],
    },
    Kind {
        name: "swatch",
        words: "swatch in up to three states",
        needs: &["warp"],
        takes: &[
            "in_reed",
            "width_on_loom",
            "width_off_loom",
            "width_washed",
            "length_on_loom",
            "length_off_loom",
            "length_washed",
            "picks_on_loom",
            "picks_off_loom",
            "picks_washed",
            "ends_on_loom",
            "ends_off_loom",
            "ends_washed",
            "warp_thread",
            "warp_cloth",
            "weft_thread",
            "weft_cloth",
            "note",
        ],
    },
    Kind {
        name: "warp",
        words: "warp wound and put on the loom",
        needs: &["threads", "wound"],
        takes: &["warp", "in_reed", "mass", "note"],
    },
    Kind {
        name: "weft",
        words: "weft yarn made ready beside the loom, or added to it",
        needs: &["mass"],
        takes: &["bobbin", "note"],
    },
    Kind { name: "picks", words: "picks checked", needs: &["picks"], takes: &["woven", "note"] },
    Kind { name: "woven", words: "length woven", needs: &["woven"], takes: &["weft_left", "note"] },
    Kind { name: "breaks", words: "ends broken", needs: &["ends"], takes: &["woven", "where", "note"] },
    Kind {
        name: "knobs",
        words: "brake and knob settings",
        needs: &[],
        takes: &["bobbin", "brake", "knob", "speed", "voltage", "twist_set", "note"],
    },
    Kind {
        name: "minutes",
        words: "time worked at a step",
        needs: &["step", "time"],
        takes: &["done_length", "done_mass", "done_number", "note"],
    },
    Kind { name: "temperature", words: "temperature of a day", needs: &["low", "high"], takes: &["note"] },
    Kind { name: "note", words: "a note", needs: &["note"], takes: &[] },
    Kind { name: "photo", words: "a photo", needs: &["file"], takes: &["bobbin", "warp", "note"] },
    Kind {
        name: "strip",
        words: "result of the print test strip",
        needs: &["mesh"],
        takes: &["positive_line", "negative_line", "dot", "strokes", "note"],
    },
];

/// The kind of this name.
pub fn kind(name: &str) -> Option<&'static Kind> {
    KINDS.iter().find(|k| k.name == name)
}

/// The field of this name.
pub fn field_named(name: &str) -> Option<&'static Field> {
    FIELDS.iter().find(|f| f.name == name)
}

/// The kind most likely meant.
pub fn near_kind(name: &str) -> Option<&'static str> {
    near(name, KINDS.iter().map(|k| k.name))
}

impl Kind {
    /// Names of all its fields, needed ones first.
    pub fn fields(&self) -> impl Iterator<Item = &'static str> + use<> {
        self.needs.iter().chain(self.takes).copied()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_names_fields_that_exist_and_every_field_is_used() {
        for kind in KINDS {
            for name in kind.fields() {
                assert!(field_named(name).is_some(), "{}: {name}", kind.name);
            }
        }
        for field in FIELDS {
            assert!(KINDS.iter().any(|k| k.fields().any(|f| f == field.name)), "{} is in no kind", field.name);
            assert_eq!(FIELDS.iter().filter(|f| f.name == field.name).count(), 1);
        }
        for stage in STAGES {
            assert!(STEPS.contains(stage), "{stage}");
        }
        assert_eq!(near_kind("sekin"), Some("skein"));
    }
}
