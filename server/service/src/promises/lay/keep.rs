//! Keeping a lay: what was laid elsewhere, checked and stored. Nothing is packed here.

use super::{kept, with_parts};
use crate::{
    desk::{
        Desk, Entry, counter,
        detail::Detail,
        failure::{Done, Failure, invalid},
        perform::Perform,
    },
    garments::need::{NeedRecord, load_garment},
    promises::reservations::{active_of, check_open},
};
use ellwand_contract::{
    Problem, ProblemType,
    lays::{DraftPart, DraftPlacement, DraftRung, KeepLay, LayDraft, LayKept},
    text::{NOTE, clean_text},
};
use ellwand_domain::{
    code::{BookingCode, LayCode, ReservationCode},
    lay::{
        FORMAT, KeptLay, LaidParts, Lay, LayPart, Outline, OutlineError, Placement, Point, Turn,
        Ways,
    },
    need::{MOST_DRAWN, Parts, PlacedError},
    quantity::Micrometres,
    setting::BookingKind,
};
use ellwand_storage::{Garment, Lay as Row, LayRung, Subject};

impl Perform for KeepLay {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<LayKept, Failure> {
        let (garment, needs) = load_garment(desk, self.garment)?;
        check_open(&garment)?;
        let (need, parts) = with_parts((self.garment, self.need.as_deref()), &needs)?;
        let laid = laid(&self.draft)?;
        same_parts(self, need, parts, &laid)?;
        let lay = checked(self, &laid)?;
        let note = clean_text("note", "note", NOTE, self.note.as_ref())?;
        let day = desk.context.day(self.date)?;
        let booking = desk.next_booking()?;
        let id = desk.tx.next_numbers(counter::LAY, 1)?;
        let row = Row {
            id,
            need_id: need.row.id,
            booking_id: booking,
            undone_by: None,
            laid: text(&laid)?,
            note,
        };
        let rungs = lay.rungs().iter().map(|lay| rung(id, lay));
        desk.tx
            .insert_lay(&row, &rungs.collect::<Done<Vec<_>>>()?)?;
        let entry = Entry {
            subjects: vec![(Subject::Garment, garment.id)],
            detail: Detail::Laid { lay: id },
            ..Entry::new(
                BookingKind::Laid,
                day,
                summary(desk, (self, &garment), need, (id, &lay)),
            )
        };
        desk.book(booking, entry)?;
        Ok(LayKept {
            booking: BookingCode::new(booking),
            lay: LayCode::new(id),
            garment: self.garment,
            need: need.row.role.clone(),
            rungs: kept::rungs(&lay),
            notes: notes(desk, &garment, need, (parts, &lay))?,
        })
    }
}

/// What to send to keep lays of the same parts.
pub(super) fn draft(lays: &[Lay]) -> LayDraft {
    let first = lays.first();
    let corners = |part: &LayPart| {
        let corners = part.outline.corners().iter();
        corners
            .map(|corner| [corner.along, corner.across])
            .collect()
    };
    let parts = first
        .map_or(&[][..], Lay::parts)
        .iter()
        .map(|part| DraftPart {
            name: part.name.clone(),
            count: part.count,
            grain: part.grain,
            may_flip: part.may_flip,
            corners_um: corners(part),
        });
    let placed = |placement: &Placement| DraftPlacement {
        part: placement.part,
        turn: placement.turn.get(),
        flipped: placement.flipped,
        at_um: [placement.at.along, placement.at.across],
    };
    let rungs = lays.iter().map(|lay| DraftRung {
        usable_um: lay.width().get(),
        placements: lay.placements().iter().map(placed).collect(),
    });
    LayDraft {
        format: FORMAT,
        ways: first.map_or(Ways::One, |lay| lay.cloth().ways),
        spacing_um: first.map_or(0, |lay| lay.cloth().spacing.get()),
        parts: parts.collect(),
        rungs: rungs.collect(),
    }
}

/// What was laid.
fn laid(draft: &LayDraft) -> Done<LaidParts> {
    if draft.format != FORMAT {
        let detail = OutlineError::Format(draft.format).to_string();
        return Err(invalid("draft.format", detail));
    }
    let parts = draft.parts.iter().enumerate().map(|(at, part)| {
        let corners = part.corners_um.iter();
        let corners = corners.map(|[along, across]| Point::new(*along, *across));
        let outline = Outline::new(corners.collect()).map_err(|error| {
            let detail = format!("{}: {error}", part.name);
            invalid(&format!("draft.parts[{at}].corners_um"), detail)
        })?;
        Ok(LayPart {
            name: part.name.clone(),
            outline,
            count: part.count,
            grain: part.grain,
            may_flip: part.may_flip,
        })
    });
    let spacing = Micrometres::new(draft.spacing_um);
    Ok(LaidParts {
        ways: draft.ways,
        spacing: spacing.map_err(|error| invalid("draft.spacing_um", error.to_string()))?,
        parts: parts.collect::<Done<_>>()?,
    })
}

/// Refuses a lay of other parts than the need has now.
fn same_parts(asked: &KeepLay, need: &NeedRecord, parts: &Parts, laid: &LaidParts) -> Done<()> {
    let pieces = parts.pieces();
    if pieces > MOST_DRAWN {
        return Err(invalid(
            "draft.parts",
            PlacedError::TooMany(pieces).to_string(),
        ));
    }
    if parts.lay_parts().is_ok_and(|parts| parts == laid.parts) {
        return Ok(());
    }
    let (code, role) = (asked.garment, &need.row.role);
    let detail = format!("the {role} of {code} has other parts now than those that were laid");
    Err(Problem::new(ProblemType::ChangedMeanwhile, detail)
        .field("draft.parts")
        .hint(format!("lay it again: ellwand lay {code} {role} --keep"))
        .with("need", role.as_str())
        .into())
}

/// Checks where they lie at each width.
fn checked(asked: &KeepLay, laid: &LaidParts) -> Done<KeptLay> {
    let draft = &asked.draft;
    let mut rungs = Vec::with_capacity(draft.rungs.len());
    for (at, rung) in draft.rungs.iter().enumerate() {
        let usable = Micrometres::new(rung.usable_um)
            .map_err(|error| invalid(&format!("draft.rungs[{at}].usable_um"), error.to_string()))?;
        let placed = rung.placements.iter().map(|one| Placement {
            part: one.part,
            turn: Turn::degrees(one.turn),
            flipped: one.flipped,
            at: Point::new(one.at_um[0], one.at_um[1]),
        });
        rungs.push((usable, placed.collect()));
    }
    KeptLay::new(laid, rungs).map_err(|error| {
        let detail = format!("this lay is not kept: {error}");
        Problem::from(invalid("draft.rungs", detail))
            .hint(format!(
                "lay it again: ellwand lay {} --keep",
                asked.garment
            ))
            .into()
    })
}

fn rung(id: i64, lay: &Lay) -> Done<LayRung> {
    Ok(LayRung {
        lay_id: id,
        usable_um: lay.cloth().usable.get(),
        length_um: lay.length().get(),
        placements: text(&lay.placements())?,
    })
}

fn text(value: &impl serde::Serialize) -> Done<String> {
    serde_json::to_string(value)
        .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()).into())
}

fn summary(
    desk: &Desk<'_>,
    (asked, garment): (&KeepLay, &Garment),
    need: &NeedRecord,
    (id, lay): (i64, &KeptLay),
) -> String {
    let units = desk.context.units();
    let code = LayCode::new(id);
    let length = lay.rungs().first().map_or_else(String::new, |lay| {
        let width = lay.cloth().usable.show_width(units);
        format!(": {} at {width}", lay.length().show_taken(units))
    });
    format!(
        "Kept a lay of the {} of {} {} as {code}{length}.",
        need.row.role, asked.garment, garment.name
    )
}

/// What counts instead of it, and what does not follow it.
fn notes(
    desk: &mut Desk<'_>,
    garment: &Garment,
    need: &NeedRecord,
    (parts, lay): (&Parts, &KeptLay),
) -> Done<Vec<String>> {
    let units = desk.context.units();
    let mut notes = Vec::new();
    for lay in lay.rungs() {
        let usable = lay.cloth().usable;
        let serving = parts.kept().iter().filter(|rung| rung.width <= usable);
        let shortest = serving.min_by_key(|rung| rung.length);
        if let Some(rung) = shortest.filter(|rung| rung.length <= lay.length()) {
            notes.push(format!(
                "at {} the kept lay {} is no longer: {} counts",
                usable.show_width(units),
                rung.lay,
                rung.length.show_taken(units)
            ));
        }
    }
    let active = active_of(desk, garment.id, need.row.id)?;
    let codes: Vec<String> = active
        .iter()
        .map(|row| ReservationCode::new(row.id).to_string())
        .collect();
    if !codes.is_empty() {
        notes.push(format!(
            "promised before, and so not by this lay: {}; release and reserve to go by it",
            codes.join(", ")
        ));
    }
    Ok(notes)
}
