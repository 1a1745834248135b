//! A kept lay as it is shown.

use super::shown;
use crate::{
    desk::{
        Desk,
        failure::{Done, Failure, invalid, not_found},
        perform::Perform,
    },
    garments::need::{NeedRecord, laid},
};
use ellwand_contract::{
    Metres, Problem, ProblemType,
    lays::{GetKeptLay, Lay as View, LayRung},
};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, LayCode},
    lay::{KeptLay, Lay},
    quantity::Micrometres,
    setting::LengthBy,
};
use ellwand_storage::{Garment, Lay as Row, LayRung as RungRow, Tx};

impl Perform for GetKeptLay {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        let kept = read(desk, self.lay)?;
        let missing = || {
            let detail = format!("the need of {} is missing", self.lay);
            Problem::new(ProblemType::Internal, detail)
        };
        let row = desk.tx.need(kept.row.need_id)?.ok_or_else(missing)?;
        let garment = desk.tx.garment(row.garment_id)?.ok_or_else(missing)?;
        let need = NeedRecord::load(desk, row, &garment)?;
        let usable = match &self.width {
            Some(width) => width.value(),
            None => kept.widest()?.cloth().usable,
        };
        kept.view(desk, &garment, &need, usable)
    }
}

/// A kept lay with all its rungs, checked again.
pub(super) struct Kept {
    row: Row,
    lay: KeptLay,
}

/// A kept lay; it must be there.
pub(super) fn read(tx: &mut Tx<'_>, code: LayCode) -> Done<Kept> {
    let row = tx.lay(code.get())?.ok_or_else(|| {
        let hint = "ellwand garment show lists the kept lays of a garment";
        not_found(format!("lay {code}"), hint)
    })?;
    let rungs = tx.lay_rungs(row.id)?;
    let lay = checked(&row, &rungs)?.map_err(|error| {
        let detail = format!("the stored lay {code}: {error}");
        Problem::new(ProblemType::Internal, detail)
    })?;
    Ok(Kept { row, lay })
}

/// A stored lay, checked again; else why it is none.
pub(crate) fn checked(row: &Row, rungs: &[RungRow]) -> Done<Result<KeptLay, String>> {
    let mut placed = Vec::with_capacity(rungs.len());
    for rung in rungs {
        match serde_json::from_str(&rung.placements) {
            Ok(placements) => placed.push((Micrometres::new(rung.usable_um)?, placements)),
            Err(error) => return Ok(Err(error.to_string())),
        }
    }
    let laid = match laid(row) {
        Ok(laid) => laid,
        Err(Failure::Refused(problem)) => return Ok(Err(problem.detail)),
        Err(stopped) => return Err(stopped),
    };
    Ok(KeptLay::new(&laid, placed).map_err(|error| error.to_string()))
}

impl Kept {
    fn widest(&self) -> Done<&Lay> {
        let widest = self.lay.rungs().first();
        Ok(widest.ok_or_else(|| Problem::new(ProblemType::Internal, "a lay has a width"))?)
    }

    /// How it is at a usable width.
    pub(super) fn view(
        &self,
        desk: &mut Desk<'_>,
        garment: &Garment,
        need: &NeedRecord,
        usable: Micrometres,
    ) -> Done<View> {
        let code = LayCode::new(self.row.id);
        let units = desk.context.units();
        let lay = self.lay.at(usable).ok_or_else(|| {
            let narrowest = self.lay.rungs().iter().map(|lay| lay.cloth().usable).min();
            let narrowest = narrowest.unwrap_or_default().show_width(units);
            let detail = format!("{code} is for cloth of {narrowest} or more");
            invalid("width", detail)
        })?;
        let current = need
            .lays
            .iter()
            .any(|lay| lay.code == code && lay.is_current);
        let mut notes = Vec::new();
        let garment_code = GarmentCode::new(garment.id);
        let role = &need.row.role;
        if self.row.undone_by.is_some() {
            notes.push(format!("{code} was taken back, and counts for nothing"));
        } else if !current {
            notes.push(format!(
                "the {role} of {garment_code} has other parts now: lay it again with ellwand lay {garment_code} {role} --keep"
            ));
        }
        notes.extend(self.row.note.clone());
        for (booking, quantity) in desk.tx.cuts_by_lay(self.row.id)? {
            let cut = Micrometres::new(quantity)?.show_taken(units);
            notes.push(format!("{} cut {cut} by it", BookingCode::new(booking)));
        }
        let by = LengthBy::Kept;
        Ok(View {
            lay: Some(code),
            rungs: rungs(&self.lay),
            outdated: !current,
            notes,
            ..shown::view(garment, need, (lay, usable, by))?
        })
    }
}

/// Its widths and their lengths.
pub(super) fn rungs(lay: &KeptLay) -> Vec<LayRung> {
    let rungs = lay.rungs().iter().map(|lay| LayRung {
        usable_m: Metres(lay.cloth().usable),
        length_m: Metres(lay.length()),
    });
    rungs.collect()
}
