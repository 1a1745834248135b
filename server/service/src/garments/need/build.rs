//! A need from what was asked for, and the refusal of fields that make no sense together.

use super::{parts, reels, stiff, trim};
use crate::desk::failure::{Done, Failure, invalid};
use ellwand_contract::{
    Problem,
    garments::{NeedInput, WidthInput},
};
use ellwand_domain::{
    need::{ClothConditions, ClothLengths, Conditions, Fabric, PlannedNeed, Takes, TrimConditions},
    quantity::{AsTyped, Micrometres, MilligramsPerM2, QuantityError},
    setting::Kind,
};
use std::{fmt::Display, str::FromStr};

/// Reads a need whose names the book knows.
pub(super) fn planned(input: &NeedInput, kind: Kind) -> Done<PlannedNeed> {
    let mass_min: Option<AsTyped<MilligramsPerM2>> = typed("mass_min", &input.mass_min)?;
    let mass_max = typed("mass_max", &input.mass_max)?;
    in_order("mass_max", mass_min.as_ref(), mass_max.as_ref())?;
    let stiffness = stiff::wanted(input, kind)?;
    reels::check(input, kind)?;
    if input.seams && kind != Kind::Thread {
        return Err(invalid(
            "seams",
            format!("{kind} is not taken by seams: thread is"),
        ));
    }
    let trim = trim::wanted(input, kind)?;
    let cloth = |fabric| ClothConditions {
        fabric,
        preparation: input.preparation,
        mass_min,
        mass_max,
        grain: input.grain,
        stiffness,
        match_repeat: input.match_repeat,
        one_length: input.one_length,
    };
    let takes = match kind {
        Kind::Cloth => fabric(input, kind, cloth(Fabric::Cloth))?,
        Kind::Lining => fabric(input, kind, cloth(Fabric::Lining))?,
        Kind::Interlining => {
            let fusible = input.fusible;
            fabric(input, kind, cloth(Fabric::Interlining { fusible }))?
        }
        Kind::Thread => thread(input, trim)?,
        Kind::Trim => trims(input, trim)?,
    };
    let material = input.material.as_deref().map(str::parse).transpose()?;
    Ok(PlannedNeed {
        takes,
        conditions: Conditions {
            material,
            lot: input.lot,
            fibre: input.fibre.clone(),
            mixing: input.mixing,
        },
        estimate: input.estimate.clone(),
    })
}

/// Refuses a most that is below its least.
pub(super) fn in_order<T: PartialOrd>(
    field: &str,
    min: Option<&AsTyped<T>>,
    max: Option<&AsTyped<T>>,
) -> Done<()> {
    match (min, max) {
        (Some(min), Some(max)) if min.value > max.value => {
            let detail = "the most is below the least that the need asks for";
            Err(invalid(field, detail))
        }
        _ => Ok(()),
    }
}

/// The first field of these that is given.
pub(super) fn first_given(fields: &[(&'static str, bool)]) -> Option<&'static str> {
    let given = fields.iter().find(|(_, given)| *given);
    given.map(|(name, _)| *name)
}

/// Reads what was typed in a field, if anything was.
pub(super) fn typed<T>(field: &str, text: &Option<String>) -> Done<Option<AsTyped<T>>>
where
    T: FromStr<Err: Display>,
{
    let read = text.as_deref().map(str::parse).transpose();
    read.map_err(|error: T::Err| invalid(field, error.to_string()))
}

fn fabric(input: &NeedInput, kind: Kind, cloth: ClothConditions) -> Done<Takes> {
    if input.count.is_some() {
        let detail =
            format!("{kind} is needed by length; the number of garments belongs to the garment");
        return Err(invalid("count", detail));
    }
    if !input.parts.is_empty() {
        let parts = parts::read(input)?;
        let own = own_lay(input)?;
        return Ok(Takes::Parts { parts, own, cloth });
    }
    let lengths = lengths(input)?;
    let longest_part = length("longest_part", &input.longest_part)?;
    let shorter = |longest: &AsTyped<Micrometres>| match &lengths {
        ClothLengths::One { length, .. } => length.value < longest.value,
        ClothLengths::ByWidth(rows) => rows.iter().any(|(_, length)| length.value < longest.value),
    };
    if let Some(longest) = longest_part.as_ref().filter(|longest| shorter(longest)) {
        let text = &longest.text;
        return Err(invalid(
            "longest_part",
            format!("the longest part, {text}, is longer than the need itself"),
        ));
    }
    Ok(Takes::Cloth {
        lengths,
        longest_part,
        cloth,
    })
}

/// Length and width of a lay of the maker's own; without a width it holds at any.
type OwnLay = (AsTyped<Micrometres>, Option<AsTyped<Micrometres>>);

/// A lay of the maker's own beside parts.
fn own_lay(input: &NeedInput) -> Done<Option<OwnLay>> {
    let (own, width) = (
        length("length", &input.length)?,
        length("width", &input.width)?,
    );
    match (own, width) {
        (Some(own), width) => Ok(Some((own, width))),
        (None, None) => Ok(None),
        (None, Some(_)) => {
            let detail = format!(
                "the need {} has parts and a width, but no length at that width",
                input.role
            );
            Err(Problem::from(invalid("width", detail))
                .hint("give the length= of your own lay too, or leave width= out: rows follow each piece's own")
                .into())
        }
    }
}

/// Washed lengths of one garment.
fn lengths(input: &NeedInput) -> Done<ClothLengths> {
    match (&input.length, input.widths.as_slice()) {
        (Some(_), [_, ..]) => Err(invalid(
            "widths",
            "the need has one length and a table of lengths; give one of them",
        )),
        (None, []) => Err(no_length(input)),
        (Some(text), []) => Ok(ClothLengths::One {
            length: one_length("length", text)?,
            width: length("width", &input.width)?,
        }),
        (None, _) if input.width.is_some() => Err(invalid(
            "width",
            "a table of lengths by width needs no width beside it",
        )),
        (None, widths) => by_width(widths),
    }
}

fn by_width(widths: &[WidthInput]) -> Done<ClothLengths> {
    for (index, entry) in widths.iter().enumerate() {
        let width = entry.width.value();
        if width.is_zero() || entry.length.value().is_zero() {
            return Err(invalid(
                "widths",
                "a width and its length must be more than zero",
            ));
        }
        let mut before = widths.iter().take(index);
        if before.any(|known| known.width.value() == width) {
            let text = entry.width.text();
            return Err(invalid(
                "widths",
                format!("the width {text} stands there twice"),
            ));
        }
    }
    let rows = widths.iter().cloned();
    let rows = rows.map(|row| (row.width.0, row.length.0)).collect();
    Ok(ClothLengths::ByWidth(rows))
}

fn thread(input: &NeedInput, trim: TrimConditions) -> Done<Takes> {
    refuse_of_cloth(input, Kind::Thread)?;
    if input.count.is_some() {
        let detail = "thread is needed by length; give a length";
        return Err(invalid("count", detail));
    }
    Ok(Takes::Thread {
        length: length("length", &input.length)?.ok_or_else(|| no_length(input))?,
        seams: input.seams,
        reels: input.reels,
        colour: trim.colour,
    })
}

fn trims(input: &NeedInput, trim: TrimConditions) -> Done<Takes> {
    refuse_of_cloth(input, Kind::Trim)?;
    let detail = match (input.count, &input.length) {
        (Some(count), None) => return trim::counted(input, count, trim),
        (None, Some(text)) => {
            let length = one_length("length", text)?;
            return Ok(Takes::Measured { length, trim });
        }
        (Some(_), Some(_)) => "a trim is counted or measured, not both".to_owned(),
        (None, None) => format!("the need {} has neither a count nor a length", input.role),
    };
    Err(invalid("count", detail))
}

fn refuse_of_cloth(input: &NeedInput, kind: Kind) -> Done<()> {
    let only_cloth = [
        ("width", input.width.is_some()),
        ("widths", !input.widths.is_empty()),
        ("part", !input.parts.is_empty()),
        ("preparation", input.preparation.is_some()),
        ("mass_min", input.mass_min.is_some()),
        ("mass_max", input.mass_max.is_some()),
        ("longest_part", input.longest_part.is_some()),
        ("one_length", input.one_length),
        ("match", input.match_repeat),
        ("grain", input.grain.is_some()),
        ("stiffness_min", input.stiffness_min.is_some()),
        ("stiffness_max", input.stiffness_max.is_some()),
        ("stiff_like", input.stiff_like.is_some()),
    ];
    let Some(name) = first_given(&only_cloth) else {
        return Ok(());
    };
    let what = name.replace('_', " ");
    Err(invalid(
        name,
        format!("{what} is for cloth and interlining, the need is {kind}"),
    ))
}

fn no_length(input: &NeedInput) -> Failure {
    invalid("length", format!("the need {} has no length", input.role))
}

fn length(field: &str, text: &Option<String>) -> Done<Option<AsTyped<Micrometres>>> {
    let text = text.as_deref();
    text.map(|text| one_length(field, text)).transpose()
}

/// A length of more than zero.
pub(super) fn one_length(field: &str, text: &str) -> Done<AsTyped<Micrometres>> {
    let read = text.parse().and_then(|read: AsTyped<Micrometres>| {
        let text = text.to_owned();
        let zero = QuantityError::NotPositive { text };
        (!read.value.is_zero()).then_some(read).ok_or(zero)
    });
    read.map_err(|error| invalid(field, error.to_string()))
}
