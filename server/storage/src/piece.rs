//! A stored piece: the domain's piece and what the shelf knows beside it.

use crate::error::StorageError;
use crate::records::{FlawRow, PieceRow, StretchRow};
use chrono::NaiveDate;
use diesel::Queryable;
use ellwand_domain::{
    ledger::{Flaw, Hold, Piece, Quantity, Rank, Rectangle},
    quantity::{Micrometres, Milligrams, Millionths},
    setting::Kind,
    shrinkage::{Preparation, ShrinkageError},
};
use std::collections::HashMap;

/// A piece as the book holds it. Promises whose last day has passed are in it too, until a write ends them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredPiece {
    /// Quantity, widths, value, flaws, promises.
    pub piece: Piece,
    /// Its lot.
    pub lot_id: i64,
    /// Its number in the lot.
    pub number: i64,
    /// What was done to it; `None`: raw.
    pub preparation: Option<Preparation>,
    /// What a cut left.
    pub offcut: bool,
    /// Where it lies.
    pub place: Option<String>,
    /// Day it was created.
    pub received: NaiveDate,
    /// Day of its last preparation.
    pub prepared: Option<NaiveDate>,
    /// Latest business date of its movements.
    pub last_on: NaiveDate,
    /// How much heavier per area it is than its lot, in millionths: 1 000 000 until it shrinks.
    pub mass_factor_ppm: i64,
    /// Mass of the empty reel or core, where it was recorded for this piece.
    pub tare: Option<Milligrams>,
    /// True while its length was worked out from a mass.
    pub estimated: bool,
    /// Last days of promises that have one.
    pub until: HashMap<i64, NaiveDate>,
}

/// Where to look on a large shelf.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Near {
    /// Kind of material.
    pub kind: Kind,
    /// Whose own cloth may serve, beside the workshop's.
    pub customer: Option<i64>,
    /// Micrometres or counts that are free in one stretch.
    pub free: i64,
    /// Those that have as much or more, the nearest first; else those that have less.
    pub longer: bool,
    /// This many at most.
    pub limit: i64,
}

/// An active promise with what its rank needs.
#[derive(Debug, Queryable)]
pub(crate) struct HoldRow {
    piece_id: i64,
    id: i64,
    stretch: i64,
    held: i64,
    promised: NaiveDate,
    until: Option<NaiveDate>,
    due: Option<NaiveDate>,
    accepted: bool,
}

/// Puts rows, flaws and promises together, in the order of the rows.
pub(crate) fn assemble(
    rows: Vec<PieceRow>,
    flaws: &[FlawRow],
    holds: &[HoldRow],
) -> Result<Vec<StoredPiece>, StorageError> {
    let mut flaws_by: HashMap<i64, Vec<Flaw>> = HashMap::new();
    for FlawRow {
        piece_id,
        position: _,
        at_um,
        length_um,
        note,
    } in flaws
    {
        let flaw = Flaw {
            at: *at_um,
            length: *length_um,
            note: note.clone(),
        };
        flaws_by.entry(*piece_id).or_default().push(flaw);
    }
    let mut holds_by: HashMap<i64, (Vec<Hold>, HashMap<i64, NaiveDate>)> = HashMap::new();
    for row in holds {
        let (list, until) = holds_by.entry(row.piece_id).or_default();
        let rank = Rank {
            accepted: row.accepted,
            due: row.due,
            promised: row.promised,
            reservation: row.id,
        };
        let stretch = usize::try_from(row.stretch).unwrap_or(0);
        list.push(Hold::whole(stretch, Quantity::new(row.held)?, rank));
        until.extend(row.until.map(|day| (row.id, day)));
    }
    let mut stored = Vec::with_capacity(rows.len());
    for row in rows {
        let flaws = flaws_by.remove(&row.id).unwrap_or_default();
        let (holds, until) = holds_by.remove(&row.id).unwrap_or_default();
        let mut one = StoredPiece::read(row)?;
        (one.piece.flaws, one.piece.holds, one.until) = (flaws, holds, until);
        stored.push(one);
    }
    Ok(stored)
}

impl StoredPiece {
    /// The row alone, without flaws and promises.
    fn read(row: PieceRow) -> Result<Self, StorageError> {
        let PieceRow {
            id,
            lot_id,
            number,
            quantity,
            full_width_um,
            selvedges_um,
            value,
            held: _,
            longest_free: _,
            preparation,
            offcut,
            place,
            received,
            prepared,
            last_on,
            mass_factor_ppm,
            tare_mg,
            estimated,
        } = row;
        let rectangle = match full_width_um {
            Some(full) => Some(Rectangle {
                full: Micrometres::new(full)?,
                selvedges: Micrometres::new(selvedges_um.unwrap_or(0))?,
            }),
            None => None,
        };
        let piece = Piece::new(
            id,
            Quantity::new(quantity)?,
            rectangle,
            Millionths::new(value)?,
        );
        let preparation = preparation
            .map(|text| text.parse())
            .transpose()
            .map_err(|error: ShrinkageError| StorageError::Damaged(error.to_string()))?;
        Ok(Self {
            piece,
            lot_id,
            number,
            preparation,
            offcut,
            place,
            received,
            prepared,
            last_on,
            mass_factor_ppm,
            tare: tare_mg.map(Milligrams::new).transpose()?,
            estimated,
            until: HashMap::new(),
        })
    }

    pub(crate) fn row(&self) -> Result<PieceRow, StorageError> {
        let Self {
            piece,
            lot_id,
            number,
            preparation,
            offcut,
            place,
            received,
            prepared,
            last_on,
            mass_factor_ppm,
            tare,
            estimated,
            until: _,
        } = self;
        Ok(PieceRow {
            id: piece.id,
            lot_id: *lot_id,
            number: *number,
            quantity: piece.quantity.get(),
            full_width_um: piece.rectangle.map(|rectangle| rectangle.full.get()),
            selvedges_um: piece.rectangle.map(|rectangle| rectangle.selvedges.get()),
            value: piece.value.get(),
            held: piece.held()?.get(),
            longest_free: piece.longest_free()?.get(),
            preparation: preparation.map(|done| done.to_string()),
            offcut: *offcut,
            place: place.clone(),
            received: *received,
            prepared: *prepared,
            last_on: *last_on,
            mass_factor_ppm: *mass_factor_ppm,
            tare_mg: tare.map(Milligrams::get),
            estimated: *estimated,
        })
    }

    pub(crate) fn stretch_rows(&self) -> Result<Vec<StretchRow>, StorageError> {
        let stretches = self.piece.stretches()?;
        Ok(stretches
            .iter()
            .zip(0..)
            .map(|(stretch, position)| StretchRow {
                piece_id: self.piece.id,
                position,
                start_um: stretch.start.get(),
                length: stretch.length.get(),
                held: stretch.held.get(),
            })
            .collect())
    }

    pub(crate) fn flaw_rows(&self) -> Vec<FlawRow> {
        let row = |(flaw, position): (&Flaw, i64)| FlawRow {
            piece_id: self.piece.id,
            position,
            at_um: flaw.at,
            length_um: flaw.length,
            note: flaw.note.clone(),
        };
        self.piece.flaws.iter().zip(0..).map(row).collect()
    }
}
