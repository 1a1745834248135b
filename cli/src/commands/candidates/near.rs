//! What is shown of trims besides the pieces: incomplete sets, lots, and close matches.

use crate::{
    pairs,
    pending::quoted,
    ui::{Shown, Table, Ui, paragraph},
};
use ellwand_contract::garments::{NearLot, NeedCandidates, NeedInput, Pick};
use ellwand_domain::code::GarmentCode;

/// `--from L5.1:4`.
pub(super) fn from(pick: &Pick) -> String {
    match (pick.trims, &pick.washed_length) {
        (Some(trims), _) => format!("--from {}:{trims}", pick.piece),
        (None, Some(length)) => format!("--from {}:{}", pick.piece, length.text()),
        (None, None) => format!("--from {}", pick.piece),
    }
}

/// Notes, and where nothing suits the close matches, each with the change that would take it.
pub(super) fn show(ui: &mut Ui<'_>, shown: Shown, garment: GarmentCode, need: &NeedCandidates) {
    for note in &need.notes {
        ui.blank();
        paragraph::show(ui, 0, note);
    }
    if need.picks.is_empty() && need.lots.len() > 1 {
        ui.blank();
        ui.table(&lots(need));
    }
    let Some(first) = need.near.first() else {
        return;
    };
    ui.blank();
    ui.heading("Close matches (promised only once the need is changed)");
    ui.table(&table(shown, &need.near));
    let text = quoted(&pairs::write::<NeedInput>(&first.need));
    ui.hint(format!(
        "to take {}: ellwand garment edit {garment} --need {text}",
        first.lot
    ));
}

fn lots(need: &NeedCandidates) -> Table {
    let mut table = Table::headed("lot | material | >free | >missing | >pieces");
    for lot in &need.lots {
        let missing = if lot.missing == 0 {
            String::new()
        } else {
            lot.missing.to_string()
        };
        table.row([
            lot.lot.to_string(),
            lot.name.clone(),
            lot.free.to_string(),
            missing,
            lot.pieces.to_string(),
        ]);
    }
    table
}

fn table(shown: Shown, near: &[NearLot]) -> Table {
    let mut table =
        Table::headed("lot | material | size | colour | >free | >left | how it differs");
    for lot in near {
        table.row([
            lot.lot.to_string(),
            lot.name.clone(),
            lot.size.clone().unwrap_or_default(),
            lot.colour.clone().unwrap_or_default(),
            shown.amount(lot.free),
            shown.amount(lot.left),
            lot.because.clone(),
        ]);
    }
    table
}
