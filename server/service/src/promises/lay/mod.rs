//! How the parts of a need lie on cloth.

mod keep;
mod kept;
mod shown;

pub(crate) use kept::checked;

use super::{
    fit::{self, UnitFit},
    internal,
    reservations::{active_of, need_named},
};
use crate::{
    desk::{
        Desk,
        failure::{Done, Failure, invalid, wrong_state},
        perform::Perform,
    },
    garments::need::{NeedRecord, load_garment},
    shelf::shelved::Shelved,
};
use ellwand_contract::{
    Amount, Problem, ProblemType,
    lays::{GetLay, Lay as View},
};
use ellwand_domain::{
    code::GarmentCode,
    ledger::Quantity,
    need::{KeptRung, Laid, Parts, PlacedError, RowsError},
    quantity::{Micrometres, Units},
    setting::{LengthBy, ReservationState},
};
use ellwand_storage::Garment;

impl Perform for GetLay {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        if self.piece.is_some() && self.width.is_some() {
            let detail = "a piece has its own width; give one of --from and --width";
            return Err(invalid("width", detail));
        }
        let (garment, needs) = load_garment(desk, self.garment)?;
        let (need, parts) = with_parts((self.garment, self.need.as_deref()), &needs)?;
        let cloth = Cloth::of(desk, self, &garment, need)?;
        let refused = |error: RowsError| too_wide(desk, need, cloth.usable, &error);
        let laid = parts.laid(cloth.usable).map_err(refused)?;
        let mut notes = notes(desk, need, &laid, cloth.notes);
        if garment.count > parts.garments() {
            let (code, count) = (self.garment, garment.count);
            notes.push(format!(
                "these are the parts of one; {code} is a batch of {count}"
            ));
        }
        let mut view = match laid.kept.filter(|_| !self.draft) {
            Some(kept) => {
                let kept = kept::read(desk, kept.lay)?;
                kept.view(desk, &garment, need, cloth.usable)?
            }
            None => {
                let first = |error| first_refused(desk, need, cloth.usable, error);
                let lay = parts.placed(cloth.usable).map_err(first)?;
                let by = match lay.length() < laid.rows {
                    true => LengthBy::Lay,
                    false => LengthBy::Rows,
                };
                shown::view(&garment, need, (&lay, cloth.usable, by))?
            }
        };
        if self.draft {
            let first = |error| first_refused(desk, need, cloth.usable, error);
            view.draft = Some(keep::draft(&parts.ladder(cloth.usable).map_err(first)?));
        }
        view.piece = cloth.piece.as_ref().map(Shelved::code);
        view.takes = cloth.takes;
        notes.append(&mut view.notes);
        Ok(View { notes, ..view })
    }
}

/// Why the parts cannot be laid.
fn first_refused(
    desk: &Desk<'_>,
    need: &NeedRecord,
    usable: Micrometres,
    error: PlacedError,
) -> Failure {
    match error {
        PlacedError::Rows(error) => too_wide(desk, need, usable, &error),
        PlacedError::TooMany(_) => {
            let hint = "plan fewer garments at once to see their lay";
            wrong_state(error.to_string(), hint)
        }
        PlacedError::Lay(_) => Problem::new(ProblemType::Internal, error.to_string()).into(),
    }
}

/// The need that is asked for, or the only one that has parts.
fn with_parts<'n>(
    (code, role): (GarmentCode, Option<&str>),
    needs: &'n [NeedRecord],
) -> Done<(&'n NeedRecord, &'n Parts)> {
    let of = |need: &'n NeedRecord| Some((need, need.demand.as_ref()?.parts()?));
    let example = |role: &str| {
        format!(
            "ellwand garment edit {code} --part 'need={role},name=back,length=72cm,width=52cm,grain=lengthwise'"
        )
    };
    if let Some(role) = role {
        let need = need_named(needs, code, role)?;
        return of(need).ok_or_else(|| {
            let detail = format!(
                "the {} of {code} is planned without its parts",
                need.row.role
            );
            let hint = format!("measure them: {}", example(&need.row.role));
            wrong_state(detail, &hint).naming("garment", code)
        });
    }
    let mut with: Vec<_> = needs.iter().filter_map(of).collect();
    match (with.pop(), with.as_slice()) {
        (Some(only), []) => Ok(only),
        (None, _) => {
            let role = needs.first().map_or("shell", |need| need.row.role.as_str());
            let detail =
                format!("no need of {code} is planned by its parts, so nothing can be laid");
            let hint = format!("measure them: {}", example(role));
            Err(wrong_state(detail, &hint).naming("garment", code))
        }
        (Some(last), others) => {
            let all = others.iter().chain([&last]);
            let roles: Vec<&str> = all.map(|(need, _)| need.row.role.as_str()).collect();
            let detail = format!(
                "{code} has parts for its {}; which is laid?",
                roles.join(", ")
            );
            let hint = format!("for example ellwand lay {code} {}", roles[0]);
            Err(Problem::from(invalid("need", detail)).hint(hint).into())
        }
    }
}

/// The cloth that is laid on.
struct Cloth {
    usable: Micrometres,
    piece: Option<Shelved>,
    takes: Option<Amount>,
    notes: Vec<String>,
}

impl Cloth {
    fn of(desk: &mut Desk<'_>, asked: &GetLay, garment: &Garment, need: &NeedRecord) -> Done<Self> {
        if let Some(width) = &asked.width {
            return Ok(Self::wide(width.value()));
        }
        let promised = active_of(desk, garment.id, need.row.id)?;
        let shelved = match (asked.piece, promised.as_slice()) {
            (Some(piece), _) => Some(Shelved::load(desk, piece)?),
            (None, [one]) if one.state == ReservationState::Active => {
                Some(Shelved::load_row(desk, one.piece_id)?)
            }
            _ => None,
        };
        if let Some(shelved) = shelved {
            return Self::on(desk, garment, need, shelved);
        }
        let shown = match &need.demand {
            Some(demand) => demand.shown()?.and_then(|one| one.width),
            None => None,
        };
        shown.map(Self::wide).ok_or_else(|| {
            let problem = Problem::from(invalid("width", "how wide is the cloth?"));
            problem.hint("add --from L1.1, or --width 142cm").into()
        })
    }

    const fn wide(usable: Micrometres) -> Self {
        Self {
            usable,
            piece: None,
            takes: None,
            notes: Vec::new(),
        }
    }

    /// A piece as it is when it is cut.
    fn on(
        desk: &mut Desk<'_>,
        garment: &Garment,
        need: &NeedRecord,
        shelved: Shelved,
    ) -> Done<Self> {
        let (usable, takes, notes) = match fit::fit(desk, garment, need, &shelved, None)? {
            Ok(UnitFit { usable, takes, .. }) => {
                let note = too_short(desk, (garment, need), &shelved, takes)?;
                (usable, Some(shelved.amount(takes)), Vec::from_iter(note))
            }
            // It is drawn all the same, where its width is known.
            Err(reason) => match fit::measured(desk, need, &shelved, []) {
                Ok(([], Some(usable))) if !reason.is_unknown() => {
                    let note = format!("{} cannot serve it: {}", shelved.code(), reason.text);
                    (Some(Micrometres::new(usable)?), None, vec![note])
                }
                _ => return Err(reason.refuse(&shelved, need)),
            },
        };
        let missing = || Problem::new(ProblemType::Internal, "cloth that fits has a width");
        Ok(Self {
            usable: usable.ok_or_else(missing)?,
            takes,
            notes,
            piece: Some(shelved),
        })
    }
}

/// That a piece has not as much free as a promise would hold, where none of it is promised to the need already.
fn too_short(
    desk: &mut Desk<'_>,
    (garment, need): (&Garment, &NeedRecord),
    shelved: &Shelved,
    takes: Quantity,
) -> Done<Option<String>> {
    let piece = &shelved.stored.piece;
    let free = piece
        .longest_free()
        .map_err(|error| internal(shelved, &error))?;
    let promised = active_of(desk, garment.id, need.row.id)?;
    let holds = promised.iter().any(|row| row.piece_id == piece.id);
    Ok((takes > free && !holds).then(|| {
        let free = shelved.show(desk.context, free);
        format!(
            "{} has no more than {free} free in one stretch",
            shelved.code()
        )
    }))
}

fn too_wide(desk: &Desk<'_>, need: &NeedRecord, usable: Micrometres, error: &RowsError) -> Failure {
    let units = desk.context.units();
    let RowsError::TooWide { name, across } = error else {
        return Problem::new(ProblemType::Internal, error.to_string()).into();
    };
    let (usable, across) = usable.show_width_beside(*across, units);
    let role = &need.row.role;
    let detail =
        format!("the {name} of the {role} takes {across} across, and the cloth has {usable}");
    Problem::new(ProblemType::DoesNotServe, detail)
        .hint("choose wider cloth, or change grain=, length= or width= of that part")
        .with("need", role.as_str())
        .into()
}

/// What the picture does not say.
fn notes(desk: &Desk<'_>, need: &NeedRecord, laid: &Laid, mut notes: Vec<String>) -> Vec<String> {
    let units = desk.context.units();
    if let Some(kept) = laid.kept {
        notes.extend(shorter(laid, kept, units));
    } else if let Some(own) = laid.own {
        notes.push(format!(
            "your own lay of {} counts for its length; where its parts lie is not known here",
            own.length.show_taken(units)
        ));
    }
    if need.plan.matching() {
        notes.push("it must match: repeats of the pattern are not in this lay".to_owned());
    }
    notes
}

/// That another length is shorter than the kept lay.
fn shorter(laid: &Laid, kept: KeptRung, units: Units) -> Option<String> {
    let own = laid.own.filter(|own| own.length < kept.length);
    let own = own.map(|own| ("your own lay", own.length));
    let rows = (laid.rows < kept.length).then_some(("rows", laid.rows));
    let (what, length) = own.or(rows)?;
    let (length, of) = (length.show_taken(units), kept.length.show_taken(units));
    Some(format!(
        "{what} would take {length}; the kept lay {}, {of}, counts all the same",
        kept.lay
    ))
}
