//! What a need's fields must be to make sense together.

use super::{parts, reels, stiff, trim};
use crate::{
    failure::{Done, Failure, invalid, not_found},
    parties::clean_name,
    shelved::{is_counted, read_sheet},
};
use ellwand_contract::garments::NeedInput;
use ellwand_domain::{
    cloth::fibre,
    code::MaterialCode,
    ledger::Quantity,
    need::{ClothDemand, Lengths, WidthLength},
    quantity::{Count, Micrometres, MilligramsPerM2, QuantityError, parse::parse_length_up},
    setting::Kind,
};
use ellwand_storage::{Material, Tx};

/// The amounts of a need, read.
#[derive(Debug, Clone)]
pub(super) struct Amounts {
    pub(super) demand: Option<ClothDemand>,
    pub(super) per_unit: Option<Quantity>,
    pub(super) counted: bool,
    pub(super) mass_min: Option<MilligramsPerM2>,
    pub(super) mass_max: Option<MilligramsPerM2>,
    pub(super) longest_part: Option<Micrometres>,
}

/// Finds what the need names, and puts codes and the book's own names in their place.
pub(super) fn resolve(tx: &mut Tx<'_>, input: &NeedInput) -> Done<(NeedInput, Kind)> {
    let mut input = input.clone();
    input.role = input.role.split_whitespace().collect::<Vec<_>>().join(" ");
    if input.role.is_empty() {
        return Err(invalid(
            "role",
            "a need has a role, for example shell, lining or buttons",
        ));
    }
    input.detail = input
        .detail
        .as_deref()
        .map(|detail| clean_name("detail", detail))
        .transpose()?;
    let material = match &input.material {
        Some(text) => Some(find_material(tx, text, input.kind)?),
        None => None,
    };
    let lot_kind = lot_kind(tx, &input, material.as_ref())?;
    let named = material.as_ref().map(|material| material.kind).or(lot_kind);
    let kind = match (input.kind, named) {
        (Some(kind), Some(named)) if kind != named => {
            return Err(invalid(
                "kind",
                format!("the need asks for {kind}, what it names is {named}"),
            ));
        }
        (Some(kind), _) | (None, Some(kind)) => kind,
        (None, None) => {
            let role = &input.role;
            let detail = format!(
                "the need {role} does not say what kind it is: cloth, interlining, thread or trim"
            );
            return Err(invalid("kind", detail));
        }
    };
    input.kind = Some(kind);
    if let Some(material) = &material {
        let counted = is_counted(kind, &read_sheet(&material.sheet)?);
        check_unit(&input, material, kind, counted)?;
        input.material = Some(MaterialCode::new(material.id).to_string());
    }
    parts::resolve(&mut input);
    stiff::resolve(tx, &mut input, kind)?;
    if let Some(name) = &input.fibre {
        let found = fibre::find(name).ok_or_else(|| {
            invalid(
                "fibre",
                format!(
                    "\"{name}\" is not a fibre, the nearest is {}",
                    fibre::nearest(name)
                ),
            )
        })?;
        input.fibre = Some(found.name.to_owned());
    }
    if let Some(garment) = input.same_lot_as {
        let needs = tx.needs(garment.get())?;
        if tx.garment(garment.get())?.is_none() {
            return Err(field(
                "same_lot_as",
                not_found(format!("garment {garment}"), "see the list of garments"),
            ));
        }
        if !needs
            .iter()
            .any(|need| need.role == input.role && !need.dropped)
        {
            let detail = format!(
                "{garment} has no need {}, so it has no lot for it",
                input.role
            );
            return Err(invalid("same_lot_as", detail));
        }
    }
    Ok((input, kind))
}

/// Names the field of a refusal that has none.
pub(super) fn field(name: &str, failure: Failure) -> Failure {
    match failure {
        Failure::Refused(problem) if problem.field.is_none() => problem.field(name).into(),
        other => other,
    }
}

fn find_material(tx: &mut Tx<'_>, text: &str, kind: Option<Kind>) -> Done<Material> {
    let missing = || {
        let hint = "use the code or name of a material that was bought, or leave it out";
        field("material", not_found(format!("material \"{text}\""), hint))
    };
    if let Ok(code) = text.parse::<MaterialCode>()
        && let Some(material) = tx.material(code.get())?
    {
        return Ok(material);
    }
    let mut named = tx.materials_named(text.trim())?;
    if let Some(kind) = kind {
        named.retain(|material| material.kind == kind);
    }
    match named.len() {
        0 => Err(missing()),
        1 => named.pop().ok_or_else(missing),
        n => Err(invalid(
            "material",
            format!("{n} materials are named \"{text}\"; give the kind or the code"),
        )),
    }
}

/// Kind of the lot that the need insists on.
fn lot_kind(tx: &mut Tx<'_>, input: &NeedInput, material: Option<&Material>) -> Done<Option<Kind>> {
    let Some(code) = input.lot else {
        return Ok(None);
    };
    let missing = || {
        field(
            "lot",
            not_found(
                format!("lot {code}"),
                "see the shelf for the lots there are",
            ),
        )
    };
    let lot = tx.lot(code.get())?.ok_or_else(missing)?;
    if let Some(material) = material.filter(|material| material.id != lot.material_id) {
        let asked = MaterialCode::new(material.id);
        let is = MaterialCode::new(lot.material_id);
        return Err(invalid(
            "lot",
            format!(
                "the need asks for {asked} {}, {code} is {is}",
                material.name
            ),
        ));
    }
    Ok(tx.material(lot.material_id)?.map(|material| material.kind))
}

fn check_unit(input: &NeedInput, material: &Material, kind: Kind, counted: bool) -> Done<()> {
    if kind == Kind::Trim && counted && input.length.is_some() {
        return Err(invalid(
            "length",
            format!("{} is counted; give a count", material.name),
        ));
    }
    if kind == Kind::Trim && !counted && input.count.is_some() {
        return Err(invalid(
            "count",
            format!("{} is measured; give a length", material.name),
        ));
    }
    Ok(())
}

/// Reads the amounts of a need of `garment_count` alike.
pub(super) fn amounts(input: &NeedInput, kind: Kind, garment_count: i64) -> Done<Amounts> {
    let mass = |name: &str, text: &Option<String>| match text {
        Some(text) => text
            .parse::<MilligramsPerM2>()
            .map(Some)
            .map_err(|error| invalid(name, error.to_string())),
        None => Ok(None),
    };
    let (mass_min, mass_max) = (
        mass("mass_min", &input.mass_min)?,
        mass("mass_max", &input.mass_max)?,
    );
    if let (Some(min), Some(max)) = (mass_min, mass_max)
        && min > max
    {
        return Err(invalid(
            "mass_max",
            "the most is below the least that the need asks for",
        ));
    }
    let mut amounts = Amounts {
        demand: None,
        per_unit: None,
        counted: false,
        mass_min,
        mass_max,
        longest_part: None,
    };
    stiff::wanted(input, kind)?;
    reels::check(input, kind)?;
    if input.seams && kind != Kind::Thread {
        return Err(invalid(
            "seams",
            format!("{kind} is not taken by seams: thread is"),
        ));
    }
    trim::check(input, kind)?;
    if kind.is_rectangle() {
        cloth(input, kind, garment_count, &mut amounts)?;
    } else {
        pooled(input, kind, garment_count, &mut amounts)?;
    }
    Ok(amounts)
}

fn cloth(input: &NeedInput, kind: Kind, garment_count: i64, amounts: &mut Amounts) -> Done<()> {
    if input.count.is_some() {
        let detail = format!(
            "{kind} is needed by length; how many garments there are is said on the garment"
        );
        return Err(invalid("count", detail));
    }
    let together = if input.one_length { garment_count } else { 1 };
    if let Some(parts) = parts::read(input, kind, together)? {
        amounts.longest_part = Some(parts.tallest()?);
        let preparation = input.preparation;
        amounts.demand = Some(ClothDemand {
            lengths: Lengths::Parts(parts),
            most: None,
            preparation,
        });
        return Ok(());
    }
    let mut lengths = lengths(input)?;
    if let Some(text) = &input.longest_part {
        let longest = positive("longest_part", text, parse_length_up(text))?;
        if lengths.iter().any(|entry| entry.length < longest) {
            return Err(invalid(
                "longest_part",
                format!("the longest part, {text}, is longer than the need itself"),
            ));
        }
        amounts.longest_part = Some(longest);
    }
    for entry in &mut lengths {
        entry.length = entry.length.times(together)?;
    }
    let preparation = input.preparation;
    amounts.demand = Some(ClothDemand {
        lengths: Lengths::ByWidth(lengths),
        most: None,
        preparation,
    });
    Ok(())
}

/// Washed lengths of one garment, as typed.
pub(super) fn lengths(input: &NeedInput) -> Done<Vec<WidthLength>> {
    match (&input.length, input.widths.as_slice()) {
        (Some(_), [_, ..]) => Err(invalid(
            "widths",
            "the need has one length and a table of lengths; give one of them",
        )),
        (None, []) => Err(invalid(
            "length",
            format!("the need {} has no length", input.role),
        )),
        (Some(text), []) => {
            let length = positive("length", text, parse_length_up(text))?;
            let width = match &input.width {
                Some(text) => Some(positive("width", text, parse_length_up(text))?),
                None => None,
            };
            Ok(vec![WidthLength { width, length }])
        }
        (None, widths) => {
            if input.width.is_some() {
                return Err(invalid(
                    "width",
                    "a table of lengths by width needs no width beside it",
                ));
            }
            let mut lengths: Vec<WidthLength> = Vec::with_capacity(widths.len());
            for entry in widths {
                let (width, length) = (entry.width.value(), entry.length.value());
                if width.is_zero() || length.is_zero() {
                    return Err(invalid(
                        "widths",
                        "a width and its length must be more than zero",
                    ));
                }
                if lengths.iter().any(|known| known.width == Some(width)) {
                    return Err(invalid(
                        "widths",
                        format!("the width {} stands there twice", entry.width.text()),
                    ));
                }
                lengths.push(WidthLength {
                    width: Some(width),
                    length,
                });
            }
            Ok(lengths)
        }
    }
}

fn pooled(input: &NeedInput, kind: Kind, garment_count: i64, amounts: &mut Amounts) -> Done<()> {
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
    if let Some((name, _)) = only_cloth.into_iter().find(|(_, given)| *given) {
        return Err(invalid(
            name,
            format!(
                "{} is for cloth and interlining, the need is {kind}",
                name.replace('_', " ")
            ),
        ));
    }
    match (kind, input.count, &input.length) {
        (Kind::Trim, Some(_), Some(_)) => {
            Err(invalid("count", "a trim is counted or measured, not both"))
        }
        (Kind::Trim, Some(count), None) => {
            let count = Count::new(count).map_err(|error| invalid("count", error.to_string()))?;
            if count == Count::ZERO {
                return Err(invalid("count", "a need of no trims is none; leave it out"));
            }
            (amounts.per_unit, amounts.counted) = (Some(trim::with_spares(count, input)?), true);
            Ok(())
        }
        (_, Some(_), _) => Err(invalid(
            "count",
            format!("{kind} is needed by length; give a length"),
        )),
        (_, None, Some(text)) => {
            let length = positive("length", text, parse_length_up(text))?;
            amounts.per_unit = Some(reels::unit(input, length, garment_count)?.into());
            Ok(())
        }
        (Kind::Trim, None, None) => Err(invalid(
            "count",
            format!("the need {} has neither a count nor a length", input.role),
        )),
        (_, None, None) => Err(invalid(
            "length",
            format!("the need {} has no length", input.role),
        )),
    }
}

pub(super) fn positive(
    name: &str,
    text: &str,
    read: Result<Micrometres, QuantityError>,
) -> Done<Micrometres> {
    let length = read.map_err(|error| invalid(name, error.to_string()))?;
    if length.is_zero() {
        let error = QuantityError::NotPositive {
            text: text.to_owned(),
        };
        return Err(invalid(name, error.to_string()));
    }
    Ok(length)
}
