//! How the parts of a need lie on cloth.

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
    Amount, Metres, Problem, ProblemType,
    lays::{GetLay, LaidPart, Lay as View, LayPoint},
};
use ellwand_domain::{
    lay::{Lay, Point},
    ledger::Quantity,
    need::{Laid, Parts, PlacedError, RowsError},
    quantity::{Micrometres, QuantityError},
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
        let (need, parts) = with_parts(self, &needs)?;
        let cloth = Cloth::of(desk, self, &garment, need)?;
        let refused = |error: RowsError| too_wide(desk, need, cloth.usable, &error);
        let laid = parts.laid(cloth.usable).map_err(refused)?;
        let lay = match parts.placed(cloth.usable) {
            Ok(lay) => lay,
            Err(PlacedError::Rows(error)) => return Err(refused(error)),
            Err(error @ PlacedError::TooMany(_)) => {
                let hint = "plan fewer garments at once to see their lay";
                return Err(wrong_state(error.to_string(), hint));
            }
            Err(error @ PlacedError::Lay(_)) => {
                return Err(Problem::new(ProblemType::Internal, error.to_string()).into());
            }
        };
        let mut notes = notes(desk, need, &laid, cloth.notes);
        if garment.count > parts.garments() {
            let (code, count) = (self.garment, garment.count);
            notes.push(format!(
                "these are the parts of one; {code} is a batch of {count}"
            ));
        }
        let thousandths = laid.used_thousandths(lay.length());
        Ok(View {
            garment: self.garment,
            name: garment.name,
            need: need.row.role.clone(),
            piece: cloth.piece.as_ref().map(Shelved::code),
            usable_m: Metres(cloth.usable),
            width_m: Metres(lay.width()),
            length_m: Metres(lay.length()),
            length_by: match laid.lay {
                Some(_) => LengthBy::Lay,
                None => LengthBy::Rows,
            },
            used_percent: format!(
                "{}.{}",
                thousandths.div_euclid(10),
                thousandths.rem_euclid(10)
            ),
            takes: cloth.takes,
            parts: places(&lay)?,
            notes,
        })
    }
}

/// The need that is asked for, or the only one that has parts.
fn with_parts<'n>(asked: &GetLay, needs: &'n [NeedRecord]) -> Done<(&'n NeedRecord, &'n Parts)> {
    let code = asked.garment;
    let of = |need: &'n NeedRecord| Some((need, need.demand.as_ref()?.parts()?));
    let example = |role: &str| {
        format!("ellwand garment edit {code} --part 'need={role},name=back,length=72cm,width=52cm'")
    };
    if let Some(role) = &asked.need {
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
    if let Some(own) = laid.own {
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

/// Each part in its place, as they begin along the cloth.
fn places(lay: &Lay) -> Done<Vec<LaidPart>> {
    let mut numbers = vec![0_i64; lay.parts().len()];
    let mut placements = lay.placements().to_vec();
    placements.sort_by_key(|placement| (placement.at, placement.part));
    let mut places = Vec::with_capacity(placements.len());
    for placement in &placements {
        let (Some(part), Some(number)) = (
            lay.parts().get(placement.part),
            numbers.get_mut(placement.part),
        ) else {
            continue;
        };
        *number = number.saturating_add(1);
        let fault = |error: ellwand_domain::lay::OutlineError| {
            Problem::new(ProblemType::Internal, error.to_string())
        };
        let outline = part.outline.placed(placement).map_err(fault)?;
        let [begin, end] = part.outline.grain_line(placement).map_err(fault)?;
        let most = part.outline.bounds().most;
        let corners = outline.corners().iter().map(|corner| point(*corner));
        places.push(LaidPart {
            part: part.name.clone(),
            number: *number,
            of: part.count,
            length_m: Metres(Micrometres::new(most.along)?),
            width_m: Metres(Micrometres::new(most.across)?),
            grain: part.grain,
            turn: placement.turn.get(),
            corners: corners.collect::<Result<Vec<_>, _>>()?,
            grain_line: [point(begin)?, point(end)?],
        });
    }
    Ok(places)
}

fn point(at: Point) -> Result<LayPoint, QuantityError> {
    Ok(LayPoint {
        along_m: Metres(Micrometres::new(at.along.max(0))?),
        across_m: Metres(Micrometres::new(at.across.max(0))?),
    })
}
