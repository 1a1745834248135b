//! Options that differ in a cloth: one on the shelf, or one that is not bought yet.

use crate::{
    desk::{
        Desk,
        failure::{Done, invalid},
    },
    garments::need::{NeedRecord, load_garment},
    promises::{fit, panel, reservations::need_named},
    shelf::shelved::{LotRecord, Shelved},
};
use ellwand_contract::{
    Metres, Problem, ProblemType,
    garments::NeedChange,
    options::{OptionCloth, OptionInput},
};
use ellwand_domain::{
    code::GarmentCode,
    ledger::Rectangle,
    need::{ClothFacts, ClothFit, fit_cloth},
    purchase::{Paid, Price},
    quantity::PartsPerMillion,
    shrinkage::{Candidates, Preparation, Stated, step},
};
use ellwand_storage::Garment;

/// An option for each cloth.
pub(in crate::money::quotations) fn options(
    desk: &mut Desk<'_>,
    code: GarmentCode,
    cloths: &[OptionCloth],
) -> Done<Vec<OptionInput>> {
    if cloths.is_empty() {
        return Ok(Vec::new());
    }
    let (garment, needs) = load_garment(desk, code)?;
    let mut options: Vec<OptionInput> = Vec::with_capacity(cloths.len());
    for cloth in cloths {
        let need = need_named(&needs, code, &cloth.role)?;
        if need.demand.is_none() {
            let detail = format!("the {} takes no cloth", need.row.role);
            return Err(invalid("with", detail));
        }
        let mut made = option(desk, &garment, need, cloth)?;
        let same = |known: &&OptionInput| known.name.starts_with(&made.name);
        let known = options.iter().filter(same).count();
        if cloth.called.is_none() && cloth.price.is_some() && known > 0 {
            made.name = format!("{} {}", made.name, known.saturating_add(1));
        }
        options.push(made);
    }
    Ok(options)
}

fn option(
    desk: &mut Desk<'_>,
    garment: &Garment,
    need: &NeedRecord,
    cloth: &OptionCloth,
) -> Done<OptionInput> {
    let plain = ["material", "lot", "same_lot_as", "estimate"]
        .into_iter()
        .fold(NeedChange::of(&need.row.role), |change, field| {
            change.with(field, ())
        });
    let (usual, changed) = match (&cloth.lot, &cloth.material, &cloth.price) {
        (Some(lot), None, None) => {
            let record = LotRecord::load(desk, lot.get())?;
            let own = plain.with("lot", lot.to_string());
            check_lot(desk, garment, need, &record)?;
            (format!("{} ({lot})", record.material.name), own)
        }
        (None, Some(name), None) => {
            let own = plain.with("material", name.clone());
            (name.trim().to_owned(), own)
        }
        (None, None, Some(price)) => {
            let estimate = not_bought(desk, garment, need, cloth, price)?;
            let own = plain.with("estimate", estimate);
            // What it is bought for is not the customer's to read.
            ("cloth to be bought".to_owned(), own)
        }
        _ => {
            let detail = "which cloth? name a lot, a material or a price for a length";
            return Err(Problem::from(invalid("with", detail))
                .hint("for example shell=L7, shell=64.00/m with its width")
                .into());
        }
    };
    Ok(OptionInput {
        name: cloth.called.clone().unwrap_or(usual),
        needs: vec![changed],
        ..OptionInput::default()
    })
}

/// Refuses a lot none of whose pieces serves the need, with the reason of the first.
fn check_lot(
    desk: &mut Desk<'_>,
    garment: &Garment,
    need: &NeedRecord,
    record: &LotRecord,
) -> Done<()> {
    let mut asked = need.clone();
    asked.plan.conditions.material = None;
    asked.plan.conditions.lot = None;
    asked.row.same_lot_as = None;
    let mut first = None;
    for stored in desk.tx.pieces_of_lot(record.lot.id)? {
        if stored.piece.quantity.is_zero() {
            continue;
        }
        let shelved = Shelved {
            stored,
            record: record.clone(),
        };
        match fit::fit(desk, garment, &asked, &shelved, None)? {
            Ok(_) => return Ok(()),
            Err(reason) => first = first.or(Some((shelved, reason))),
        }
    }
    Err(match first {
        Some((shelved, reason)) => reason.refuse(&shelved, need),
        None => Problem::new(
            ProblemType::ExceedsOnHand,
            format!("nothing of {} is left", record.code()),
        )
        .field("with")
        .into(),
    })
}

/// What one garment's share of cloth that is not bought yet costs, and for what length: that of the need, washed and rounded like
/// cloth on the shelf, at the price of a length.
fn not_bought(
    desk: &mut Desk<'_>,
    garment: &Garment,
    need: &NeedRecord,
    cloth: &OptionCloth,
    price: &str,
) -> Done<String> {
    let refused = |detail: String| invalid("with", detail);
    let currency = desk.context.currency;
    let price = Price::parse(price, Some(currency)).map_err(|error| refused(error.to_string()))?;
    if price.currency() != currency {
        return Err(refused(format!("give the price in {currency}")));
    }
    let fitted = fitted(desk, need, cloth)?;
    let units = need.row.units.max(1);
    let all = fitted.takes.scale_up(units, 1)?;
    let minor = price
        .of(Some(Paid::Length(all)))
        .map_err(|error| refused(format!("{error}; write it for a length, such as 64.00/m")))?;
    let whole = currency.money(minor).to_millionths()?;
    let length = fitted.washed.scale_up(units, 1)?.into();
    let value = match panel::of_parts(desk.context, need, (length, fitted.usable)) {
        Some(panel) => panel.cost(whole, Rectangle::without_selvedges(fitted.usable))?,
        None => whole,
    };
    let each = value.share(1, garment.count.max(1))?;
    let (money, takes) = (desk.context.printed(each), Metres(fitted.takes));
    Ok(format!("{money} for {takes}m"))
}

fn fitted(desk: &Desk<'_>, need: &NeedRecord, cloth: &OptionCloth) -> Done<ClothFit> {
    let no_cloth = || invalid("with", format!("the {} takes no cloth", need.row.role));
    let demand = need.demand.as_ref().ok_or_else(no_cloth)?;
    let width = cloth.width.as_ref().ok_or_else(|| {
        let detail = "how wide is the cloth? give its full width beside the price";
        Problem::from(invalid("with", detail)).hint("for example shell=64.00/m,width=150cm")
    })?;
    let share = |text: &str| text.parse::<PartsPerMillion>();
    let stated = match &cloth.shrinkage {
        None => Stated::default(),
        Some(typed) => Stated {
            length: Some(share(&typed.length)?),
            width: typed.width.as_deref().map(share).transpose()?,
        },
    };
    let candidates = Candidates {
        preparation: demand.preparation.unwrap_or(Preparation::None),
        tests: &[],
        pinned: None,
        stated,
        fibres: &[],
        construction: None,
    };
    let facts = ClothFacts {
        rectangle: Rectangle::without_selvedges(width.value()),
        preparation: None,
        shrinkage: step(&candidates, 0),
    };
    fit_cloth(demand, &facts, desk.context.rule()?).map_err(|misfit| {
        let text = misfit.show(desk.context.units());
        let detail = format!("that cloth cannot serve the {}: {text}", need.row.role);
        let hint = "give its width and how it shrinks: width=150cm,shrinkage=3%/1%";
        Problem::from(invalid("with", detail)).hint(hint).into()
    })
}
