//! An edit of a material's record: what new lots of it start from, and how much there should be. Lots keep what they were.

use crate::{
    desk::{
        Desk, Entry,
        failure::{Done, invalid, not_found, wrong_state},
        perform::Perform,
        trace::{self, Traced},
    },
    ledger::undo::{cannot, field_label},
    people::parties::clean_name,
    shelf::{
        materials::{view, within},
        sheet,
        shelved::{is_counted, read_sheet},
    },
};
use ellwand_contract::{
    Problem, ProblemType,
    sheets::{EditMaterial, Material},
};
use ellwand_domain::{
    code::MaterialCode,
    quantity::{Count, Micrometres},
    setting::{BookingKind, Facet, Kind},
};
use ellwand_storage::{Material as Row, Trace, Tx};

/// Parts of a material that are no field of its sheet.
const NAME: &str = "name";
const LEAST: &str = "least";

impl Perform for EditMaterial {
    fn perform(&self, desk: &mut Desk<'_>) -> Done<Material> {
        let before = known(desk, self.material)?;
        let after = self.after(desk, &before)?;
        let mut changed =
            trace::of_sheet((Facet::Material, before.id), &before.sheet, &after.sheet)?;
        if before.name != after.name {
            changed.push(Traced::wrote(Facet::Material, before.id, &before.name)?.part(NAME));
        }
        if before.least != after.least {
            changed.push(Traced::wrote(Facet::Material, before.id, &before.least)?.part(LEAST));
        }
        if !changed.is_empty() {
            desk.tx.save_material(&after)?;
            let parts: Vec<String> = changed.iter().map(|one| label(one.part_name())).collect();
            let summary = format!(
                "Edited the {} of {}.",
                parts.join(" and the "),
                self.material
            );
            let mut entry = Entry::new(BookingKind::Edited, desk.context.today, summary);
            entry.traces = changed;
            let booking = desk.next_booking()?;
            desk.book(booking, entry)?;
        }
        view(desk, after)
    }
}

/// How a material is after an edit.
trait After {
    fn after(&self, tx: &mut Tx<'_>, before: &Row) -> Done<Row>;
}

impl After for EditMaterial {
    fn after(&self, tx: &mut Tx<'_>, before: &Row) -> Done<Row> {
        let mut row = before.clone();
        if let Some(name) = &self.name {
            row.name = clean_name("name", name)?;
            if row.name.parse::<MaterialCode>().is_ok() {
                return Err(invalid(
                    "name",
                    format!("\"{}\" is a code, not a name", row.name),
                ));
            }
            if let Some(detail) = taken(tx, before, &row.name)? {
                return Err(Problem::new(ProblemType::AlreadyExists, detail)
                    .field("name")
                    .hint("use that one, or another name; see ellwand material list")
                    .into());
            }
        }
        let newer = sheet::merge(row.kind, &read_sheet(&row.sheet)?, &self.sheet, self.really)
            .map_err(|failure| within("sheet", failure))?;
        row.sheet = sheet::write(&newer)?;
        row.counted = is_counted(row.kind, &newer);
        if before.counted != row.counted {
            if let Some(detail) = fixed(tx, before)? {
                return Err(wrong_state(
                    detail,
                    "make a new material for the other unit",
                ));
            }
            // A level in the other unit says nothing.
            row.least = None;
        }
        if let Some(text) = &self.least {
            row.least = least(text, row.counted)?;
        }
        Ok(row)
    }
}

fn known(tx: &mut Tx<'_>, code: MaterialCode) -> Done<Row> {
    let known = tx.material(code.get())?;
    known.ok_or_else(|| not_found(format!("material {code}"), "see ellwand material list"))
}

/// Which other material has the name.
fn taken(tx: &mut Tx<'_>, row: &Row, name: &str) -> Done<Option<String>> {
    let kind: Kind = row.kind;
    let other = tx
        .material_named(kind, name)?
        .filter(|other| other.id != row.id);
    let code = |other: Row| MaterialCode::new(other.id);
    Ok(other.map(|other| format!("{kind} \"{name}\" already exists: {}", code(other))))
}

/// Why the material's unit stays.
fn fixed(tx: &mut Tx<'_>, row: &Row) -> Done<Option<String>> {
    let (code, name) = (MaterialCode::new(row.id), &row.name);
    let received = !tx.layers(row.id)?.is_empty();
    Ok(received.then(|| format!("{code} {name} has been received, so its unit is fixed")))
}

/// A least level as it was typed; `none` takes it away.
fn least(text: &str, counted: bool) -> Done<Option<i64>> {
    if text.trim().eq_ignore_ascii_case("none") {
        return Ok(None);
    }
    let read = match counted {
        true => text.parse::<Count>().map(Count::get),
        false => text.parse::<Micrometres>().map(Micrometres::get),
    };
    let least = read.map_err(|error| invalid("least", error.to_string()))?;
    if least == 0 {
        let problem = Problem::from(invalid("least", "a least level is more than zero"));
        return Err(problem.hint("--least none takes the level away").into());
    }
    Ok(Some(least))
}

/// A part's name for people.
pub(crate) fn label(part: &str) -> String {
    match part {
        LEAST => "least level".to_owned(),
        part => field_label(part),
    }
}

/// Makes materials what they were before an edit.
pub(crate) fn put_back<'a>(
    desk: &mut Desk<'_>,
    traces: impl Iterator<Item = &'a Trace>,
) -> Done<()> {
    for edited in traces {
        let before = known(desk, MaterialCode::new(edited.subject_id))?;
        let mut row = before.clone();
        match edited.part.as_str() {
            NAME => row.name = trace::was(edited)?,
            LEAST => row.least = trace::was(edited)?,
            field => row.sheet = trace::field_back(&row.sheet, field, trace::was(edited)?)?,
        }
        row.counted = is_counted(row.kind, &read_sheet(&row.sheet)?);
        let mut stands = taken(desk, &row, &row.name)?;
        if row.counted != before.counted {
            stands = stands.or(fixed(desk, &before)?);
        }
        if let Some(detail) = stands {
            return Err(cannot(detail, "edit it anew: ellwand material edit"));
        }
        desk.tx.save_material(&row)?;
    }
    Ok(())
}
