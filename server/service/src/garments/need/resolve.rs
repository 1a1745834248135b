//! What a need names: found, and spelled as the book does.

use super::{parts, stiff};
use crate::{
    desk::failure::{Done, Failure, invalid, not_found},
    people::parties::clean_name,
    shelf::shelved::{is_counted, read_sheet},
};
use ellwand_contract::{garments::NeedInput, text::nearest};
use ellwand_domain::{cloth::fibre, code::MaterialCode, setting::Kind};
use ellwand_storage::{Material, Tx};

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
            let detail =
                format!("the need {role} has no kind: cloth, lining, interlining, thread or trim");
            return Err(invalid("kind", detail));
        }
    };
    input.kind = Some(kind);
    if let Some(material) = &material {
        let counted = is_counted(kind, &read_sheet(&material.sheet)?);
        check_unit(&input, material, kind, counted)?;
        input.material = Some(MaterialCode::new(material.id).to_string());
    }
    parts::resolve(&mut input, kind);
    stiff::resolve(tx, &mut input, kind)?;
    if let Some(name) = &input.fibre {
        let unknown = || invalid("fibre", fibre::unknown(name).to_string());
        let found = fibre::find(name).ok_or_else(unknown)?;
        input.fibre = Some(found.name.to_owned());
    }
    if let Some(garment) = input.same_lot_as {
        let needs = tx.needs(garment.get())?;
        if tx.garment(garment.get())?.is_none() {
            return Err(field(
                "same_lot_as",
                not_found(format!("garment {garment}"), "see ellwand garment list"),
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
    let missing = |near: Option<&String>| {
        let hint = match near {
            Some(near) => format!("did you mean material={near}?"),
            None => "use a code or name of ellwand material list, or leave it out".to_owned(),
        };
        field("material", not_found(format!("material \"{text}\""), &hint))
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
        0 => {
            let mut known = tx.materials()?;
            known.retain(|material| kind.is_none_or(|kind| material.kind == kind));
            let names: Vec<String> = known.into_iter().map(|material| material.name).collect();
            Err(missing(nearest(text, &names)))
        }
        1 => named.pop().ok_or_else(|| missing(None)),
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
    let missing = || field("lot", not_found(format!("lot {code}"), "see ellwand shelf"));
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
