//! Technical sheets: what was typed is read and laid over what is known.

mod cloth;

pub(crate) use cloth::generic;

use crate::desk::failure::{Done, invalid};
use ellwand_contract::text::{LINE, NOTE, clean_text};
use ellwand_contract::{
    Gsm, Metres, Problem, ProblemType,
    sheets::{Sheet, SheetInput},
};
use ellwand_domain::{
    certainty::Certainty,
    quantity::{
        Micrometres, Milligrams, PartsPerMillion, QuantityError, Tex,
        parse::{parse_length_down, parse_length_up, parse_mass_per_area},
    },
    setting::Kind,
};
use ellwand_storage::{Lot, Tx};

/// Wider than any loom (common practice: cloth is at most some 6 m wide).
const WIDEST: Micrometres = Micrometres::from_mm(20_000);

/// Reads what was typed and lays it over an older sheet; what is absent stays, an empty text clears.
///
/// Refusals name the field of [`SheetInput`] (`shrinkage.length`); the first one that is wrong, widths before
/// the mass that may need them.
pub(crate) fn merge(kind: Kind, older: &Sheet, input: &SheetInput, really: bool) -> Done<Sheet> {
    check_kind(kind, input)?;
    let mut sheet = older.clone();
    if !input.fibres.is_empty() {
        sheet.fibres = cloth::fibres(&input.fibres)?;
    }
    text(
        &mut sheet.construction,
        "construction",
        LINE,
        input.construction.as_ref(),
    )?;
    text(&mut sheet.colour, "colour", LINE, input.colour.as_ref())?;
    text(&mut sheet.note, "note", NOTE, input.note.as_ref())?;
    measures(&mut sheet, older, input)?;
    if let Some(shrinkage) = &input.shrinkage {
        sheet.shrinkage = Some(cloth::shrinkage(shrinkage, really)?);
    }
    if let Some(stiffness) = &input.stiffness {
        cloth::stiffness(&mut sheet, stiffness)?;
    }
    sheet.one_way = input.one_way.or(sheet.one_way);
    sheet.fusible = input.fusible.or(sheet.fusible);
    sheet.unit = input.unit.or(sheet.unit);
    if let Some(typed) = &input.stretch {
        let share: PartsPerMillion = typed.parse().map_err(|error| refuse("stretch", &error))?;
        positive("stretch", typed, share.get())?;
        sheet.stretch = Some(typed.trim().to_owned());
    }
    if let Some(typed) = &input.yarn_count {
        let tex: Tex = typed
            .parse()
            .map_err(|error| refuse("yarn_count", &error))?;
        sheet.yarn_count = Some(typed.trim().to_owned());
        sheet.tex = Some(tex.decimal_tex());
    }
    if let Some(typed) = &input.tare {
        let tare: Milligrams = typed.parse().map_err(|error| refuse("tare", &error))?;
        sheet.tare_g = Some(tare.decimal_g());
    }
    text(&mut sheet.size, "size", LINE, input.size.as_ref())?;
    let measures = input.mass.is_some() || input.full_width.is_some() || input.selvedges.is_some();
    sheet.certainty = match input.certainty {
        Some(certainty) => Some(certainty),
        None if measures => Some(Certainty::Stated),
        None => sheet.certainty,
    };
    Ok(sheet)
}

/// Lengths and the mass, which may need the width.
fn measures(sheet: &mut Sheet, older: &Sheet, input: &SheetInput) -> Done<()> {
    length(
        &mut sheet.full_width_m,
        "full_width",
        input.full_width.as_ref(),
        parse_length_down,
    )?;
    if let Some((typed, width)) = input.full_width.as_ref().zip(sheet.full_width_m)
        && width.0 > WIDEST
    {
        return Err(invalid(
            "full_width",
            format!("\"{typed}\" is wider than any cloth: 20 m at most"),
        )
        .with("wanted_um", width.0.get())
        .with("most_um", WIDEST.get()));
    }
    if let Some(typed) = &input.selvedges {
        // No selvedges at all is a fact.
        let width =
            parse_length_up(typed).map_err(|error| invalid("selvedges", error.to_string()))?;
        sheet.selvedges_m = Some(Metres(width));
    }
    check_widths(sheet, input)?;
    if let Some(typed) = &input.mass {
        let full = sheet.full_width_m.map(|width| width.0);
        let mass =
            parse_mass_per_area(typed, full).map_err(|error| invalid("mass", error.to_string()))?;
        positive("mass", typed, mass.get())?;
        sheet.mass_gsm = Some(Gsm(mass));
        cloth::stiffness_by_mass(sheet, older.mass_gsm)?;
    }
    length(
        &mut sheet.repeat_m,
        "repeat",
        input.repeat.as_ref(),
        parse_length_up,
    )?;
    length(
        &mut sheet.reel_length_m,
        "reel_length",
        input.reel_length.as_ref(),
        parse_length_down,
    )?;
    length(
        &mut sheet.size_m,
        "size",
        input.size.as_ref(),
        parse_length_up,
    )
}

/// Mirrors a sheet in the columns that lots are searched by.
pub(crate) fn fill_search_columns(lot: &mut Lot, sheet: &Sheet) {
    lot.colour = sheet.colour.clone().unwrap_or_default();
    lot.mass_mg_m2 = sheet.mass_gsm.map(Gsm::get);
}

/// Writes by which fibres a lot is found, once it is there.
pub(crate) fn save_fibres(tx: &mut Tx<'_>, lot: i64, sheet: &Sheet) -> Done<()> {
    let fibres: Vec<String> = sheet
        .fibres
        .iter()
        .map(|share| generic(&share.fibre))
        .collect();
    Ok(tx.save_lot_fibres(lot, &fibres)?)
}

/// A sheet as the book keeps it.
pub(crate) fn write(sheet: &Sheet) -> Done<String> {
    serde_json::to_string(sheet)
        .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()).into())
}

fn refuse(field: &str, error: &QuantityError) -> crate::desk::failure::Failure {
    invalid(field, error.to_string())
}

fn positive(field: &str, text: &str, number: i64) -> Done<()> {
    if number > 0 {
        return Ok(());
    }
    Err(refuse(
        field,
        &QuantityError::NotPositive {
            text: text.to_owned(),
        },
    ))
}

fn text(
    kept: &mut Option<String>,
    field: &str,
    longest: usize,
    typed: Option<&String>,
) -> Done<()> {
    if typed.is_some() {
        *kept = clean_text(field, field, longest, typed)?;
    }
    Ok(())
}

fn length(
    kept: &mut Option<Metres>,
    field: &str,
    typed: Option<&String>,
    read: impl Fn(&str) -> Result<Micrometres, QuantityError>,
) -> Done<()> {
    let Some(typed) = typed else { return Ok(()) };
    let length = read(typed).map_err(|error| refuse(field, &error))?;
    positive(field, typed, length.get())?;
    *kept = Some(Metres(length));
    Ok(())
}

fn check_widths(sheet: &Sheet, input: &SheetInput) -> Done<()> {
    let (Some(full), Some(selvedges)) = (sheet.full_width_m, sheet.selvedges_m) else {
        return Ok(());
    };
    if selvedges < full {
        return Ok(());
    }
    let field = if input.selvedges.is_some() {
        "selvedges"
    } else {
        "full_width"
    };
    let detail = format!("selvedges of {selvedges} m leave nothing of a full width of {full} m");
    Err(Problem::from(invalid(field, detail))
        .hint("give both selvedges together, such as selvedges=2cm of full-width=150cm")
        .with("selvedges_um", selvedges.0.get())
        .with("full_um", full.0.get())
        .into())
}

/// Refuses what a kind of material cannot have.
fn check_kind(kind: Kind, input: &SheetInput) -> Done<()> {
    let given = [
        (
            "full_width",
            input.full_width.is_some(),
            kind.is_rectangle(),
        ),
        ("mass", input.mass.is_some(), kind.is_rectangle()),
        ("shrinkage", input.shrinkage.is_some(), kind.is_rectangle()),
        ("stretch", input.stretch.is_some(), kind.is_rectangle()),
        ("selvedges", input.selvedges.is_some(), kind.is_rectangle()),
        ("one_way", input.one_way.is_some(), kind.is_rectangle()),
        ("repeat", input.repeat.is_some(), kind.is_rectangle()),
        ("stiffness", input.stiffness.is_some(), kind.is_rectangle()),
        (
            "fusible",
            input.fusible.is_some(),
            kind == Kind::Interlining,
        ),
        (
            "yarn_count",
            input.yarn_count.is_some(),
            kind == Kind::Thread,
        ),
        (
            "reel_length",
            input.reel_length.is_some(),
            kind == Kind::Thread,
        ),
        (
            "tare",
            input.tare.is_some(),
            kind == Kind::Thread || kind.is_rectangle(),
        ),
        ("size", input.size.is_some(), kind == Kind::Trim),
        ("unit", input.unit.is_some(), kind == Kind::Trim),
    ];
    match given.into_iter().find(|(_, given, fits)| *given && !fits) {
        Some((field, ..)) => Err(invalid(
            field,
            format!(
                "{kind} has no {}; leave it out, or correct the kind",
                field.replace('_', " ")
            ),
        )),
        None => Ok(()),
    }
}
