//! Pieces of a lot.

use super::{Shown, Table, Ui, left, right};
use ellwand_contract::{
    cuts::FromLayer,
    lots::{Piece, PieceChanged},
};
use ellwand_domain::shrinkage::Preparation;

/// `raw`, `washed`, `cut as it is`.
#[must_use]
pub fn preparation(preparation: Option<Preparation>) -> String {
    preparation.map_or_else(|| "raw".to_owned(), |preparation| preparation.to_string())
}

/// `raw offcut estimated`: what was done to cloth, what a cut left, and a length that was worked out from a mass.
#[must_use]
pub fn state(preparation: Option<String>, offcut: bool, estimated: bool) -> String {
    let words = [
        preparation,
        offcut.then(|| "offcut".to_owned()),
        estimated.then(|| "estimated".to_owned()),
    ];
    words.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// A table of pieces.
#[must_use]
pub fn table(shown: Shown, pieces: &[&Piece]) -> Table {
    let columns = [
        left("piece"),
        right("on hand"),
        right("reserved"),
        right("free"),
        right("longest free"),
        right("full width"),
        right("usable"),
        left("state"),
        right(if pieces.iter().any(|piece| piece.full_width_m.is_some()) {
            "empty core"
        } else {
            "empty reel"
        }),
        left("place"),
        right("value"),
    ];
    let mut table = Table::new(columns);
    for piece in pieces {
        let value = shown.optional_value(piece.value);
        let prepared = piece.full_width_m.map(|_| preparation(piece.preparation));
        table.row([
            piece.piece.to_string(),
            shown.amount(piece.on_hand),
            some(piece.reserved.get(), shown.taken(piece.reserved)),
            shown.amount(piece.free),
            some(
                piece.free.get() - piece.longest_free.get(),
                shown.amount(piece.longest_free),
            ),
            piece
                .full_width_m
                .map(|width| shown.width(width))
                .unwrap_or_default(),
            piece
                .usable_width_m
                .map(|width| shown.width(width))
                .unwrap_or_default(),
            state(prepared, piece.offcut, piece.estimated),
            piece
                .tare_g
                .as_ref()
                .map(|tare| format!("{tare} g"))
                .unwrap_or_default(),
            piece.place.clone().unwrap_or_default(),
            value,
        ]);
    }
    table
}

/// The text, unless the number is zero.
fn some(number: i64, text: String) -> String {
    if number == 0 { String::new() } else { text }
}

/// Flaws and the stretches between them, for pieces that have flaws.
pub fn flaws(ui: &mut Ui<'_>, shown: Shown, pieces: &[&Piece]) {
    let mut table = Table::headed("piece | >no. | >at | >length | flaw");
    let mut stretches = Table::headed("piece | >from | >length | >reserved");
    for piece in pieces.iter().filter(|piece| !piece.flaws.is_empty()) {
        for (place, flaw) in piece.flaws.iter().enumerate() {
            let length = some(flaw.length_m.get(), shown.length(flaw.length_m));
            let number = place.saturating_add(1).to_string();
            table.row([
                piece.piece.to_string(),
                number,
                shown.length(flaw.at_m),
                length,
                flaw.note.clone(),
            ]);
        }
        for stretch in &piece.stretches {
            let reserved = some(stretch.reserved_m.get(), shown.length(stretch.reserved_m));
            stretches.row([
                piece.piece.to_string(),
                shown.length(stretch.start_m),
                shown.length(stretch.length_m),
                reserved,
            ]);
        }
    }
    if !table.is_empty() {
        ui.blank();
        ui.heading("Flaws, from the outer end");
        ui.table(&table);
        ui.blank();
        ui.heading("Stretches between them");
        ui.table(&stretches);
    }
}

/// A piece after a change, with what else the change did.
pub fn changed(ui: &mut Ui<'_>, shown: Shown, answer: &PieceChanged) {
    let pieces: Vec<&Piece> = std::iter::once(&answer.piece).chain(&answer.made).collect();
    ui.table(&table(shown, &pieces));
    flaws(ui, shown, &pieces);
    super::promise::aftermath(ui, shown, &answer.changed, &answer.broken);
    ui.notes(&answer.notes);
}

/// Which lots' layers thread and trims were taken from, with what each cost; nothing where that is hidden.
#[must_use]
pub fn from_layers(shown: Shown, layers: &[FromLayer]) -> Option<String> {
    let one = |part: &FromLayer| {
        let of = part.lot.map_or_else(
            || "the average of its material".to_owned(),
            |lot| format!("what was bought as {lot}"),
        );
        let cost = shown.money(part.cost?);
        Some(format!("{} of {of} ({cost})", shown.taken(part.quantity)))
    };
    let costs: Vec<String> = layers.iter().filter_map(one).collect();
    (!costs.is_empty()).then(|| format!("its cost: {}", costs.join(", ")))
}
