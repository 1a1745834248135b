//! Why a facet cannot be put back: the later booking that wrote it, or rests on it.

use crate::{
    desk::failure::Done,
    shelf::{material_edit, shelved::Shelved},
    workshop::kept::Part,
};
use ellwand_domain::{
    code::{
        BookingCode, CustomerCode, GarmentCode, LotCode, MaterialCode, QuotationCode, SupplierCode,
        TokenCode,
    },
    setting::Facet,
};
use ellwand_storage::{Trace, Tx};

/// Why a facet stays as it is.
pub(super) fn stands(tx: &mut Tx<'_>, trace: &Trace, later: BookingCode) -> Done<String> {
    let (id, part) = (trace.subject_id, &trace.part);
    Ok(match trace.facet {
        Facet::Place => {
            let piece = Shelved::load_row(tx, id)?.code();
            format!("{later} has put {piece} elsewhere since")
        }
        Facet::Length | Facet::Flaws | Facet::Widths | Facet::Preparation | Facet::Tare => {
            let piece = Shelved::load_row(tx, id)?.code();
            format!("{piece} has been measured, prepared, marked or corrected since, by {later}")
        }
        Facet::Sheet => format!(
            "{later} has set the {} of {} since",
            label(part),
            LotCode::new(id)
        ),
        Facet::Plan => {
            let garment = GarmentCode::new(id);
            format!("the plan of {garment} has been changed again since, by {later}")
        }
        Facet::Garment => format!("{later} has been booked on {} since", GarmentCode::new(id)),
        Facet::Quotation => {
            let state = tx.quotation(id)?.map(|row| row.state.word());
            let (code, state) = (QuotationCode::new(id), state.unwrap_or_default());
            format!("{code} has been {state} since, by {later}")
        }
        Facet::Rating => {
            let garment = GarmentCode::new(id);
            format!("the {part} of {garment} has been rated again since, by {later}")
        }
        Facet::Books => {
            let to = tx.workshop()?.and_then(|row| row.closed_to);
            let to = to.map_or_else(String::new, |day| format!(" up to {day}"));
            format!("the books are closed{to} by a later closing, {later}")
        }
        Facet::Charge => format!("{later} moved a share of it"),
        Facet::Setting => {
            let part = Part::of(trace)?.label(tx)?;
            format!("the {part} has been set again since, by {later}")
        }
        Facet::Supplier => format!(
            "the {part} of {} has been edited again since, by {later}",
            SupplierCode::new(id)
        ),
        Facet::Token => format!("{} has been revoked since, by {later}", TokenCode::new(id)),
        Facet::Material => format!(
            "the {} of {} has been edited again since, by {later}",
            material_edit::label(part),
            MaterialCode::new(id)
        ),
        Facet::Customer => format!(
            "the {part} of {} has been edited again or erased since, by {later}",
            CustomerCode::new(id)
        ),
    })
}

/// A field's name for people, without its unit; what a strip test sets is one thing.
pub(crate) fn label(field: &str) -> String {
    if field.starts_with("rigidity") || field.starts_with("stiffness") {
        return "stiffness".to_owned();
    }
    let units = ["_m", "_gsm", "_g", "_unm", "_um", "_pc"];
    let bare = units
        .iter()
        .find_map(|unit| field.strip_suffix(unit))
        .unwrap_or(field);
    bare.replace('_', " ")
}
