//! Materials: what things are. They appear by use.

use crate::{
    desk::{
        Desk, counter,
        failure::{Done, Failure, invalid, not_found},
        perform::Perform,
    },
    people::parties::clean_name,
    shelf::{
        pooled, sheet,
        shelved::{amount, is_counted, read_sheet},
    },
};
use ellwand_contract::{
    Problem,
    purchases::MaterialInput,
    sheets::{ListMaterials, Material, Materials, Sheet},
};
use ellwand_domain::{code::MaterialCode, ledger::Quantity, setting::Kind};
use ellwand_storage::Tx;

/// Names the place of a refusal's field in its request: `mass` in `line[0].material`.
pub(crate) fn within(place: &str, failure: Failure) -> Failure {
    match failure {
        Failure::Refused(mut problem) => {
            problem.field = Some(match problem.field {
                Some(field) => format!("{place}.{field}"),
                None => place.to_owned(),
            });
            Failure::Refused(problem)
        }
        stopped @ Failure::Storage(_) => stopped,
    }
}

/// The material of a code, or of a kind and name, with the sheet of a new lot of it; a new one is made.
pub(crate) fn find_or_make(
    tx: &mut Tx<'_>,
    input: &MaterialInput,
    really: bool,
) -> Done<(ellwand_storage::Material, Sheet)> {
    if let Some(known) = find(tx, input)? {
        let kind = known.kind;
        let older = read_sheet(&known.sheet)?;
        let sheet = sheet::merge(kind, &older, &input.sheet, really)?;
        if is_counted(kind, &older) != is_counted(kind, &sheet) {
            let unit = if is_counted(kind, &older) {
                "counted"
            } else {
                "measured"
            };
            return Err(invalid(
                "unit",
                format!("{} is {unit}, and its unit cannot change", known.name),
            ));
        }
        return Ok((known, sheet));
    }
    let Some(kind) = input.kind else {
        let name = input.name.as_deref().unwrap_or_default();
        return Err(Problem::from(invalid(
            "kind",
            format!("\"{name}\" is new and needs a kind"),
        ))
        .hint("add kind=cloth, or lining, interlining, thread or trim")
        .into());
    };
    let name = clean_name("name", input.name.as_deref().unwrap_or_default())?;
    let sheet = sheet::merge(kind, &Sheet::default(), &input.sheet, really)?;
    let id = tx.next_numbers(counter::MATERIAL, 1)?;
    let made = ellwand_storage::Material {
        id,
        kind,
        name,
        sheet: sheet::write(&sheet)?,
        counted: is_counted(kind, &sheet),
        least: None,
    };
    tx.save_material(&made)?;
    Ok((made, sheet))
}

/// The material that is meant, when it is known.
fn find(tx: &mut Tx<'_>, input: &MaterialInput) -> Done<Option<ellwand_storage::Material>> {
    let name = input
        .name
        .as_deref()
        .map(|name| name.split_whitespace().collect::<Vec<_>>().join(" "));
    let typed_code = name
        .as_deref()
        .and_then(|name| name.parse::<MaterialCode>().ok());
    if let Some(code) = input.code.or(typed_code) {
        let known = tx.material(code.get())?;
        let known = known.ok_or_else(|| {
            within(
                "code",
                not_found(format!("material {code}"), "see ellwand material list"),
            )
        })?;
        if let Some(kind) = input.kind.filter(|kind| *kind != known.kind) {
            return Err(invalid(
                "kind",
                format!("{code} {} is {}, not {kind}", known.name, known.kind),
            ));
        }
        if let Some(name) = name.filter(|name| typed_code.is_none() && *name != known.name) {
            return Err(Problem::from(invalid(
                "name",
                format!("{code} is {}, not {name}", known.name),
            ))
            .hint(format!(
                "give the code or the name; rename it: ellwand material edit {code} --name …"
            ))
            .into());
        }
        return Ok(Some(known));
    }
    let Some(name) = name.filter(|name| !name.is_empty()) else {
        return Err(Problem::from(invalid(
            "name",
            "the material has neither a code nor a name",
        ))
        .hint("give its name, for example material=navy wool")
        .into());
    };
    if let Some(kind) = input.kind {
        return Ok(tx.material_named(kind, &name)?);
    }
    let mut named = tx.materials_named(&name)?;
    if named.len() > 1 {
        let kinds: Vec<String> = named
            .iter()
            .map(|material| material.kind.to_string())
            .collect();
        let detail = format!(
            "\"{name}\" is the name of several materials: {}",
            kinds.join(", ")
        );
        return Err(Problem::from(invalid("kind", detail))
            .hint("add one of them, for example kind=cloth")
            .into());
    }
    Ok(named.pop())
}

impl Perform for ListMaterials {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Materials, Failure> {
        let wanted = |kind: Kind| self.kind.is_none_or(|wanted| wanted == kind);
        let mut materials = Vec::new();
        for row in desk
            .tx
            .materials()?
            .into_iter()
            .filter(|row| wanted(row.kind))
        {
            materials.push(view(desk, row)?);
        }
        Ok(Materials { materials })
    }
}

pub(super) fn view(desk: &mut Desk<'_>, row: ellwand_storage::Material) -> Done<Material> {
    let ellwand_storage::Material {
        id,
        kind,
        name,
        sheet,
        counted,
        least,
    } = row;
    let (kind, sheet) = (kind, read_sheet(&sheet)?);
    let stock = match kind.is_rectangle() {
        true => None,
        false => Some(pooled::stock(desk, id, counted, None)?),
    };
    Ok(Material {
        material: MaterialCode::new(id),
        kind,
        name,
        sheet,
        least: least
            .map(|least| Ok::<_, Failure>(amount(counted, Quantity::new(least)?)))
            .transpose()?,
        stock,
    })
}
