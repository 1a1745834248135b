//! What a need asks of a piece beside its length: kind, owner, material, lot, fibre, size, stiffness.

use super::{Reason, fit_length, mass};
use crate::{
    desk::{Desk, failure::Done},
    garments::need::NeedRecord,
    promises,
    shelf::{sheet, shelved::Shelved},
};
use ellwand_domain::{
    code::{CustomerCode, GarmentCode, LotCode, MaterialCode},
    setting::WhyNot,
    shrinkage::Progress,
};
use ellwand_storage::{Garment, Tx};

/// A piece beside a need.
struct Beside<'a> {
    garment: &'a Garment,
    need: &'a NeedRecord,
    shelved: &'a Shelved,
}

/// One condition: nothing, where it is met or the need does not ask for it.
type Condition = fn(&mut Tx<'_>, &Beside<'_>) -> Done<Option<Reason>>;

/// In the order in which they are reported.
const CONDITIONS: [Condition; 9] = [
    kind, counted, owner, material, lot, same_lot, fibre, trim, stiffness,
];

/// The first condition of the need that the piece does not meet, whatever its length.
pub(super) fn first_not_met(
    tx: &mut Tx<'_>,
    garment: &Garment,
    need: &NeedRecord,
    shelved: &Shelved,
) -> Done<Option<Reason>> {
    let beside = Beside {
        garment,
        need,
        shelved,
    };
    for condition in CONDITIONS {
        if let Some(reason) = condition(tx, &beside)? {
            return Ok(Some(reason));
        }
    }
    Ok(None)
}

/// A customer's cloth serves only that customer's garments, whoever cuts.
pub(crate) fn not_the_owner(garment: &Garment, shelved: &Shelved) -> Option<Reason> {
    let owner = shelved
        .record
        .lot
        .owner_id
        .filter(|owner| garment.customer_id != Some(*owner))?;
    let text = format!("it belongs to customer {}", CustomerCode::new(owner));
    Some(Reason::new(
        WhyNot::Owner,
        text,
        "a customer's cloth serves only that customer's garments",
    ))
}

/// Everything that the need asks for and the piece is not, whatever its length, each in a few words: what a promise would be refused for.
/// An unknown shrinkage is no doubt.
pub(crate) fn doubts(
    desk: &mut Desk<'_>,
    garment: &Garment,
    need: &NeedRecord,
    shelved: &Shelved,
) -> Done<Vec<String>> {
    let beside = Beside {
        garment,
        need,
        shelved,
    };
    let mut doubts = Vec::new();
    for condition in CONDITIONS {
        doubts.extend(condition(desk, &beside)?.map(|reason| reason.text));
    }
    if need.demand.is_some() && shelved.stored.piece.rectangle.is_some() {
        match fit_length(desk, need, shelved, None)? {
            Ok(fit) => doubts.extend(
                mass::check(need, shelved, &fit)?
                    .err()
                    .map(|reason| reason.text),
            ),
            Err(reason) if reason.is_unknown() => {}
            Err(reason) => doubts.push(reason.text),
        }
    }
    Ok(doubts)
}

/// What is still to be done to a piece before it is what the need asks for: `it is raw, the need asks for washed`.
pub(crate) fn still_to_do(need: &NeedRecord, shelved: &Shelved) -> Option<String> {
    let wanted = need.demand.as_ref()?.preparation?;
    let Progress::ToDo { .. } = wanted.progress(shelved.stored.preparation) else {
        return None;
    };
    Some(match shelved.stored.preparation {
        None => format!("it is still raw; the need asks for {wanted}"),
        Some(done) => format!("it was {done}; the need asks for {wanted}"),
    })
}

fn kind(_: &mut Tx<'_>, beside: &Beside<'_>) -> Done<Option<Reason>> {
    let (is, wanted) = (beside.shelved.record.kind(), beside.need.row.kind);
    Ok((is != wanted).then(|| {
        Reason::other(
            WhyNot::Other,
            format!("it is {is}; the need asks for {wanted}"),
        )
    }))
}

fn counted(_: &mut Tx<'_>, Beside { need, shelved, .. }: &Beside<'_>) -> Done<Option<Reason>> {
    let text = match (shelved.counted(), need.counted) {
        (false, true) => "it is measured; the need is counted",
        (true, false) => "it is counted; the need is measured",
        _ => return Ok(None),
    };
    Ok(Some(Reason::other(WhyNot::Other, text)))
}

fn owner(_: &mut Tx<'_>, beside: &Beside<'_>) -> Done<Option<Reason>> {
    Ok(not_the_owner(beside.garment, beside.shelved))
}

fn material(_: &mut Tx<'_>, beside: &Beside<'_>) -> Done<Option<Reason>> {
    let Some(wanted) = beside.need.plan.conditions.material else {
        return Ok(None);
    };
    let is = &beside.shelved.record.material;
    Ok((wanted != MaterialCode::new(is.id)).then(|| {
        let text = format!("it is {}; the need asks for {wanted}", is.name);
        Reason::other(WhyNot::Material, text)
    }))
}

fn lot(_: &mut Tx<'_>, beside: &Beside<'_>) -> Done<Option<Reason>> {
    let other = beside
        .need
        .plan
        .conditions
        .lot
        .filter(|lot| *lot != beside.shelved.record.code());
    Ok(other.map(|lot| Reason::other(WhyNot::Lot, format!("the need asks for lot {lot}"))))
}

fn same_lot(tx: &mut Tx<'_>, beside: &Beside<'_>) -> Done<Option<Reason>> {
    let Some(like) = beside.need.same_lot_as() else {
        return Ok(None);
    };
    let lots = promises::lots_of_role(tx, like.get(), &beside.need.row.role)?;
    Ok((!lots.contains(&beside.shelved.record.lot.id)).then(|| not_the_same_lot(like, &lots)))
}

fn not_the_same_lot(like: GarmentCode, lots: &[i64]) -> Reason {
    let lots: Vec<String> = lots
        .iter()
        .map(|lot| LotCode::new(*lot).to_string())
        .collect();
    let text = match lots.is_empty() {
        true => format!("it must come from the lot of {like}, which has none yet"),
        false => format!("it must come from the lot of {like}: {}", lots.join(", ")),
    };
    let hint = "choose a piece of that lot, or change the need";
    Reason::new(WhyNot::Lot, text, hint)
}

fn fibre(_: &mut Tx<'_>, beside: &Beside<'_>) -> Done<Option<Reason>> {
    let Some(fibre) = &beside.need.plan.conditions.fibre else {
        return Ok(None);
    };
    let fibres = &beside.shelved.record.sheet.fibres;
    if fibres.is_empty() {
        let text = format!("its fibres are unknown; the need asks for {fibre}");
        let lot = beside.shelved.record.code();
        let hint = format!("enter them: ellwand lot edit {lot} --fibres 'wool 100%'");
        return Ok(Some(Reason::unknown(text, &hint)));
    }
    let has = fibres
        .iter()
        .any(|share| sheet::generic(&share.fibre) == sheet::generic(fibre));
    Ok((!has).then(|| Reason::other(WhyNot::Fibre, format!("it has no {fibre}"))))
}

fn trim(_: &mut Tx<'_>, beside: &Beside<'_>) -> Done<Option<Reason>> {
    Ok(beside.need.trim_not_met(&beside.shelved.record))
}

fn stiffness(tx: &mut Tx<'_>, beside: &Beside<'_>) -> Done<Option<Reason>> {
    beside.need.stiffness_not_met(tx, &beside.shelved.record)
}
