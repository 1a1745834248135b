//! A lay as it travels.

use crate::{desk::failure::Done, garments::need::NeedRecord};
use ellwand_contract::{
    Metres, Problem, ProblemType,
    lays::{LaidPart, Lay as View, LayPoint},
};
use ellwand_domain::{
    code::GarmentCode,
    lay::{Bounds, Lay, Point, Used},
    quantity::{Micrometres, QuantityError},
    setting::LengthBy,
};
use ellwand_storage::Garment;

/// A lay of a need on cloth of a usable width.
pub(super) fn view(
    garment: &Garment,
    need: &NeedRecord,
    (lay, usable, by): (&Lay, Micrometres, LengthBy),
) -> Done<View> {
    let used = Used::of(lay.area_um2(), lay.length(), usable);
    Ok(View {
        garment: GarmentCode::new(garment.id),
        name: garment.name.clone(),
        need: need.row.role.clone(),
        lay: None,
        rungs: Vec::new(),
        outdated: false,
        piece: None,
        usable_m: Metres(usable),
        width_m: Metres(lay.width()),
        length_m: Metres(lay.length()),
        length_by: by,
        used_percent: used.to_string(),
        takes: None,
        parts: places(lay)?,
        draft: None,
        notes: Vec::new(),
    })
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
        let Bounds { least, most } = part.outline.bounds();
        let corners = outline.corners().iter().map(|corner| point(*corner));
        places.push(LaidPart {
            part: part.name.clone(),
            number: *number,
            of: part.count,
            length_m: Metres(Micrometres::new(most.along.saturating_sub(least.along))?),
            width_m: Metres(Micrometres::new(most.across.saturating_sub(least.across))?),
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
