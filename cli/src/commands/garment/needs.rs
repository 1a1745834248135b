//! Reads `--need` and `--operation`.

use crate::{
    pairs::{Pairs, PairsError},
    typed,
};
use ellwand_contract::{
    Typed,
    garments::{NeedInput, OperationInput, WidthInput},
};
use ellwand_domain::{
    quantity::{Count, Micrometres, MilligramsPerM2},
    stiffness::Reading,
    trim::TrimSize,
};
use std::{fmt::Display, str::FromStr};

/// Keys of `--need`, in the order of the help.
pub const NEED_KEYS: &[&str] = &[
    "role",
    "kind",
    "length",
    "seams",
    "width",
    "widths",
    "count",
    "preparation",
    "material",
    "lot",
    "same-lot-as",
    "fibre",
    "mass-min",
    "mass-max",
    "longest-part",
    "mixing",
    "match",
    "reels",
    "one-length",
    "grain",
    "stiffness-min",
    "stiffness-max",
    "stiff-like",
    "fusible",
    "size",
    "colour",
    "matching",
    "spares",
    "estimate",
    "detail",
];
/// Keys of `--operation`.
pub const OPERATION_KEYS: &[&str] = &["name", "kind", "planned", "person", "billable", "detail"];

/// Checks a quantity here, so that a forgotten unit is found before anything is sent; the text travels.
pub(super) fn checked<T: FromStr<Err: Display>>(
    pairs: &mut Pairs,
    key: &str,
) -> Result<Option<String>, PairsError> {
    let Some(text) = pairs.take(key) else {
        return Ok(None);
    };
    typed::checked::<T>(&text)
        .map(Some)
        .map_err(|error| PairsError::new(format!("{key}: {error}")))
}

/// Reads `role=shell,kind=cloth,length=2.60m,width=140cm,preparation=washed`.
///
/// # Errors
/// An unknown key, a value that cannot be read, a need without a role.
pub fn need(text: &str) -> Result<NeedInput, PairsError> {
    need_of(Pairs::parse(text, NEED_KEYS)?)
}

/// A need from pairs that are read already.
///
/// # Errors
/// As [`need`].
pub fn need_of(mut pairs: Pairs) -> Result<NeedInput, PairsError> {
    Ok(NeedInput {
        role: pairs.need("role", "shell")?,
        kind: pairs.take_as("kind")?,
        length: checked::<Micrometres>(&mut pairs, "length")?,
        seams: pairs.take_bool("seams")?.unwrap_or_default(),
        width: checked::<Micrometres>(&mut pairs, "width")?,
        widths: widths(pairs.take("widths"))?,
        parts: Vec::new(),
        count: pairs.take_as::<Count>("count")?.map(Count::get),
        preparation: pairs.take_as("preparation")?,
        material: pairs.take("material"),
        lot: pairs.take_as("lot")?,
        same_lot_as: pairs.take_as("same-lot-as")?,
        fibre: pairs.take("fibre"),
        mass_min: checked::<MilligramsPerM2>(&mut pairs, "mass-min")?,
        mass_max: checked::<MilligramsPerM2>(&mut pairs, "mass-max")?,
        longest_part: checked::<Micrometres>(&mut pairs, "longest-part")?,
        mixing: pairs.take_bool("mixing")?.unwrap_or_default(),
        match_repeat: pairs.take_bool("match")?.unwrap_or_default(),
        reels: pairs.take_as::<Count>("reels")?.map(Count::get),
        one_length: pairs.take_bool("one-length")?.unwrap_or_default(),
        grain: pairs.take_as("grain")?,
        stiffness_min: checked::<Reading>(&mut pairs, "stiffness-min")?,
        stiffness_max: checked::<Reading>(&mut pairs, "stiffness-max")?,
        stiff_like: pairs.take("stiff-like"),
        fusible: pairs.take_bool("fusible")?,
        size: checked::<TrimSize>(&mut pairs, "size")?,
        colour: pairs.take("colour"),
        matching: pairs.take_bool("matching")?.unwrap_or_default(),
        spares: pairs.take_as::<Count>("spares")?.map(Count::get),
        estimate: pairs.take("estimate"),
        detail: pairs.take("detail"),
    })
}

/// Reads lengths by width: `90cm:3.90m / 140cm:2.60m`.
fn widths(text: Option<String>) -> Result<Vec<WidthInput>, PairsError> {
    text.iter().flat_map(|text| rows(text)).map(width).collect()
}

/// Rows between strokes; a stroke between two digits is that of a fraction.
fn rows(text: &str) -> Vec<&str> {
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let (mut rows, mut begin) = (Vec::new(), 0);
    for (at, _) in text.match_indices('/') {
        let (before, after) = (
            text[..at].chars().next_back(),
            text[at + 1..].chars().next(),
        );
        if !(digit(before) && digit(after)) {
            rows.push(&text[begin..at]);
            begin = at + 1;
        }
    }
    rows.push(&text[begin..]);
    rows
}

fn width(text: &str) -> Result<WidthInput, PairsError> {
    let fault = |error: &dyn Display| PairsError::new(format!("widths: {error}"));
    let example = || {
        format!(
            "\"{}\" is not width:length, for example 140cm:2.60m",
            text.trim()
        )
    };
    let (width, length) = text.split_once(':').ok_or_else(|| fault(&example()))?;
    let read = |text: &str| {
        text.trim()
            .parse::<Typed<Micrometres>>()
            .map_err(|error| fault(&error))
    };
    Ok(WidthInput {
        width: read(width)?,
        length: read(length)?,
    })
}

/// Reads `name=sewing,kind=hand,planned=9h`.
///
/// # Errors
/// An unknown key, a value that cannot be read, no name, kind or planned time.
pub fn operation(text: &str) -> Result<OperationInput, PairsError> {
    operation_of(Pairs::parse(text, OPERATION_KEYS)?)
}

/// An operation from pairs that are read already.
///
/// # Errors
/// As [`operation`].
pub fn operation_of(mut pairs: Pairs) -> Result<OperationInput, PairsError> {
    let text = pairs.text().to_owned();
    let missing = |key, example| {
        PairsError::new(format!(
            "\"{text}\" has no {key}, for example {key}={example}"
        ))
    };
    Ok(OperationInput {
        name: pairs.need("name", "sewing")?,
        kind: pairs
            .take_as("kind")?
            .ok_or_else(|| missing("kind", "hand"))?,
        planned: pairs
            .take_as("planned")?
            .ok_or_else(|| missing("planned", "2h30"))?,
        person: pairs.take("person"),
        billable: pairs.take_bool("billable")?.unwrap_or(true),
        detail: pairs.take("detail"),
    })
}

#[cfg(test)]
mod tests {
    use super::operation;
    use ellwand_contract::garments::NeedInput;
    use ellwand_domain::{
        setting::{Grain, Kind, WorkKind},
        shrinkage::Preparation,
    };

    fn need(text: &str) -> Result<NeedInput, String> {
        super::need(text).map_err(|error| error.to_string())
    }

    fn operation_error(text: &str) -> String {
        operation(text)
            .map(|read| read.name)
            .expect_err("a faulty operation")
            .to_string()
    }

    #[test]
    fn a_need_for_cloth_is_read_with_its_conditions() {
        let need = need(
            "role=shell,kind=cloth,length=2 3/4 yd,width=140cm,preparation=washed x3,same-lot-as=g4,mass-min=200gsm,\
             longest-part=78cm,mixing=yes,match=yes,grain=bias",
        )
        .expect("a need");
        assert_eq!(
            (need.role.as_str(), need.kind),
            ("shell", Some(Kind::Cloth))
        );
        assert_eq!(
            (need.length.as_deref(), need.width.as_deref()),
            (Some("2 3/4 yd"), Some("140cm"))
        );
        assert_eq!(need.preparation, Some(Preparation::Washed { times: 3 }));
        assert_eq!(
            need.same_lot_as.map(|code| code.to_string()).as_deref(),
            Some("G4")
        );
        assert_eq!(
            (need.mixing, need.one_length, need.grain),
            (true, false, Some(Grain::Bias))
        );
        assert!(need.match_repeat);
        assert_eq!(
            (need.mass_min.as_deref(), need.mass_max),
            (Some("200gsm"), None)
        );
    }

    #[test]
    fn a_need_may_be_a_table_of_lengths_by_width() {
        let need = need("role=shell,kind=cloth,widths=90cm:3.90m / 140cm:2.60m").expect("a need");
        let rows: Vec<_> = need
            .widths
            .iter()
            .map(|row| (row.width.value().get(), row.length.value().get()))
            .collect();
        assert_eq!(rows, [(900_000, 3_900_000), (1_400_000, 2_600_000)]);
        // Fractions of a yard have a stroke of their own: 36 in, 54 in; 4 yd, 2 3/4 yd.
        for text in [
            "36in:4yd / 54in:2 3/4yd",
            "36in:4yd/54in:2 3/4yd",
            "35 1/2 in:4yd / 54in:2 3/4 yd",
        ] {
            let need = super::need(&format!("role=shell,kind=cloth,widths={text}")).expect(text);
            let rows: Vec<_> = need
                .widths
                .iter()
                .map(|row| row.length.value().get())
                .collect();
            assert_eq!(rows, [3_657_600, 2_514_600], "{text}");
        }
    }

    #[test]
    fn buttons_are_counted() {
        assert_eq!(
            need("role=buttons,kind=trim,count=7")
                .expect("a need")
                .count,
            Some(7)
        );
        let set =
            need("role=buttons,kind=trim,count=6,size=24L,colour=brown,matching=yes,spares=1")
                .expect("a need");
        assert_eq!(
            (set.size.as_deref(), set.colour.as_deref()),
            (Some("24L"), Some("brown"))
        );
        assert_eq!((set.matching, set.spares), (true, Some(1)));
        assert!(
            need("role=buttons,size=24")
                .expect_err("no unit")
                .starts_with("size: \"24\" needs a unit")
        );
        assert!(
            need("role=buttons,kind=trim,count=7.5")
                .expect_err("half a button")
                .starts_with("count: ")
        );
    }

    #[test]
    fn a_need_that_cannot_be_read_names_the_key() {
        let fault = |text| need(text).expect_err("a faulty need");
        assert_eq!(
            fault("kind=cloth"),
            "\"kind=cloth\" has no role, for example role=shell"
        );
        assert!(fault("role=shell,length=2.60").starts_with("length: \"2.60\" needs a unit"));
        assert!(fault("role=shell,mass-min=200").starts_with("mass-min: \"200\" needs a unit"));
        assert!(
            fault("role=shell,kind=cheese")
                .starts_with("kind: \"cheese\" is not a kind of material")
        );
        assert!(fault("role=shell,weight=blue").starts_with("\"weight\" is not a key here"));
        assert!(
            fault("role=shell,widths=140cm").starts_with("widths: \"140cm\" is not width:length")
        );
        assert!(fault("role=shell,mixing=perhaps").starts_with("mixing: "));
    }

    #[test]
    fn an_operation_is_read() {
        let sewing = operation("name=sewing,kind=hand,planned=9h,person=stitcher,billable=no")
            .expect("an operation");
        assert_eq!(
            (sewing.name.as_str(), sewing.kind),
            ("sewing", WorkKind::Hand)
        );
        assert_eq!(
            (sewing.planned.value().get(), sewing.billable),
            (540, false)
        );
        assert!(
            operation("name=sewing,kind=hand,planned=9h")
                .expect("an operation")
                .billable
        );
    }

    #[test]
    fn an_operation_that_cannot_be_read_names_what_is_missing() {
        assert!(
            operation_error("name=sewing,kind=hand")
                .ends_with("has no planned, for example planned=2h30")
        );
        assert!(
            operation_error("name=sewing,planned=9h")
                .ends_with("has no kind, for example kind=hand")
        );
        assert!(
            operation_error("name=sewing,kind=hand,planned=9")
                .starts_with("planned: \"9\" needs a unit")
        );
    }
}
