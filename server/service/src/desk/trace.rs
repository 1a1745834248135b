//! What a booking wrote over, and what it rests on, so that its undo puts back what was there and nothing else.
//!
//! A facet belongs to the last standing booking that traced it: only that one is taken back, whatever the values are.
//! Quantities and values are not facets but sums: the ledger is their trace.

use crate::desk::failure::{Done, Failure};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    ledger::{Flaw, Rectangle},
    quantity::Micrometres,
    setting::Facet,
};
use ellwand_storage::{StoredPiece, Trace};
use serde::{Serialize, de::DeserializeOwned};
use serde_json::{Map, Value};

/// The part of a lot's sheet that is no field of it.
pub(crate) const DYE_LOT: &str = "dye_lot";

/// A trace of a booking that is not written yet.
#[derive(Debug, Clone)]
pub(crate) struct Traced {
    facet: Facet,
    subject: i64,
    part: String,
    /// JSON of what was there; none: the booking only rests on it.
    was: Option<String>,
}

impl Traced {
    /// It wrote the facet of a record over `was`.
    pub(crate) fn wrote(facet: Facet, subject: i64, was: &impl Serialize) -> Done<Self> {
        Ok(Self {
            facet,
            subject,
            part: String::new(),
            was: Some(serde_json::to_string(was).map_err(unreadable)?),
        })
    }

    /// What it did was worked out from the facet.
    pub(crate) const fn rests(facet: Facet, subject: i64, part: String) -> Self {
        Self {
            facet,
            subject,
            part,
            was: None,
        }
    }

    /// Of a part of the facet: a field of a sheet, the rating of a detail.
    pub(crate) fn part(self, part: impl Into<String>) -> Self {
        Self {
            part: part.into(),
            ..self
        }
    }

    pub(crate) fn part_name(&self) -> &str {
        &self.part
    }

    pub(crate) fn row(self, booking: i64) -> Trace {
        Trace {
            booking_id: booking,
            facet: self.facet,
            subject_id: self.subject,
            part: self.part,
            was: self.was,
        }
    }
}

/// What was there before a trace.
pub(crate) fn was<T: DeserializeOwned>(trace: &Trace) -> Done<T> {
    serde_json::from_str(trace.was.as_deref().unwrap_or("null")).map_err(unreadable)
}

fn unreadable(error: serde_json::Error) -> Failure {
    Problem::new(ProblemType::Internal, format!("a stored trace: {error}")).into()
}

/// What an act wrote over of a piece that it was done to.
pub(crate) fn of_piece(before: &StoredPiece, after: &StoredPiece) -> Done<Vec<Traced>> {
    let id = before.piece.id;
    let widths = |stored: &StoredPiece| {
        let of = |rectangle: Rectangle| (rectangle.full, rectangle.selvedges);
        stored.piece.rectangle.map(of)
    };
    let prepared = |stored: &StoredPiece| (stored.preparation, stored.prepared);
    let mut traces = Vec::new();
    if before.place != after.place {
        traces.push(Traced::wrote(Facet::Place, id, &before.place)?);
    }
    if before.piece.flaws != after.piece.flaws {
        traces.push(Traced::wrote(Facet::Flaws, id, &before.piece.flaws)?);
    }
    if widths(before) != widths(after) {
        let was = widths(before).map(|(full, selvedges)| (full.get(), selvedges.get()));
        traces.push(Traced::wrote(Facet::Widths, id, &was)?);
    }
    if prepared(before) != prepared(after) {
        traces.push(Traced::wrote(Facet::Preparation, id, &prepared(before))?);
    }
    if before.tare != after.tare {
        traces.push(Traced::wrote(Facet::Tare, id, &before.tare)?);
    }
    Ok(traces)
}

/// The same of an act that said how long the piece is, or how many it are, whatever it was before.
pub(crate) fn of_measured(before: &StoredPiece, after: &StoredPiece) -> Done<Vec<Traced>> {
    let mut traces = of_piece(before, after)?;
    let id = before.piece.id;
    if !traces.iter().any(|trace| trace.facet == Facet::Widths) {
        // A width that is worked out anew looks for what it was at the time.
        traces.push(Traced::rests(Facet::Widths, id, String::new()));
    }
    let was = (before.estimated, before.mass_factor_ppm);
    traces.push(Traced::wrote(Facet::Length, id, &was)?);
    Ok(traces)
}

/// Puts a facet of a piece back.
pub(crate) fn put_back(stored: &mut StoredPiece, trace: &Trace) -> Done<()> {
    match trace.facet {
        Facet::Place => stored.place = was(trace)?,
        Facet::Flaws => stored.piece.flaws = was::<Vec<Flaw>>(trace)?,
        Facet::Widths => {
            stored.piece.rectangle = match was::<Option<(i64, i64)>>(trace)? {
                Some((full, selvedges)) => Some(Rectangle {
                    full: Micrometres::new(full)?,
                    selvedges: Micrometres::new(selvedges)?,
                }),
                None => None,
            }
        }
        Facet::Preparation => (stored.preparation, stored.prepared) = was(trace)?,
        Facet::Tare => stored.tare = was(trace)?,
        Facet::Length => (stored.estimated, stored.mass_factor_ppm) = was(trace)?,
        _ => {}
    }
    Ok(())
}

/// Fields of a sheet as it is stored.
pub(crate) fn fields(sheet: &str) -> Done<Map<String, Value>> {
    serde_json::from_str(sheet).map_err(unreadable)
}

/// A sheet as it is stored, with a field as it was; none: it was not there.
pub(crate) fn field_back(sheet: &str, field: &str, was: Option<Value>) -> Done<String> {
    let mut fields = fields(sheet)?;
    match was {
        Some(value) => drop(fields.insert(field.to_owned(), value)),
        None => drop(fields.remove(field)),
    }
    Ok(Value::Object(fields).to_string())
}

/// What an act wrote over of a sheet, field by field.
pub(crate) fn of_sheet((facet, id): (Facet, i64), before: &str, after: &str) -> Done<Vec<Traced>> {
    let (before, after) = (fields(before)?, fields(after)?);
    let mut names: Vec<&String> = before.keys().chain(after.keys()).collect();
    names.sort();
    names.dedup();
    names.retain(|name| before.get(*name) != after.get(*name));
    let wrote = |name: &String| Ok(Traced::wrote(facet, id, &before.get(name))?.part(name));
    names.into_iter().map(wrote).collect()
}
