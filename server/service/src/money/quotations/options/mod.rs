//! Options beside the plan: each is the plan with a change, priced like the plan and then taken back again.

pub(super) mod cloth;
mod left_out;

use left_out::{LeftOut, left_out};

use super::{
    freeze::{Frozen, Offer, Wish},
    internal,
    made::Made,
};
use crate::{
    desk::{
        Desk,
        detail::PlanChange,
        failure::{Done, Failure, invalid},
    },
    garments::{
        edit::{Replanned, replan},
        need::{load_head, load_needs},
        operation::{is_same, spelled},
    },
    people::parties::clean_name,
};
use chrono::NaiveDate;
use ellwand_contract::{
    Micro, Problem,
    garments::{EditGarment, PlanChanges},
    options::{AS_PLANNED, OPTIONS_MAX, OptionDifference, OptionFigures, OptionInput},
    text::nearest,
};
use ellwand_domain::{
    code::GarmentCode, costing::CostItem, pricing::OfferFigures, setting::PriceFrom,
};
use ellwand_storage::{QuotationVersion, Tx};
use uuid::Uuid;

/// Reads the names of the options; nothing is looked up yet.
pub(super) fn check_names(wish: &mut Wish) -> Done<()> {
    if wish.options.is_empty() {
        if wish.plan_is.take().is_some() {
            let detail = "there are no options beside the plan, so it needs no name of its own";
            return Err(Problem::from(invalid("plan_is", detail))
                .hint("offer one with --option, or leave the plan's name out")
                .into());
        }
        return Ok(());
    }
    if wish.supplement_to.is_some() {
        let detail =
            "a supplement prices one change; options are offered before anything is agreed";
        return Err(invalid("option", detail));
    }
    if wish.from == PriceFrom::Actual {
        let detail = "options are priced from the plan, not from what was made";
        return Err(invalid("option", detail));
    }
    let columns = wish.options.len().saturating_add(1);
    if columns > OPTIONS_MAX {
        let detail =
            format!("{columns} columns, the plan included, do not fit on a page; {OPTIONS_MAX} do");
        return Err(Problem::from(invalid("option", detail))
            .hint("offer the rest in another, with ellwand quote make")
            .with("wanted", columns)
            .with("most", OPTIONS_MAX)
            .into());
    }
    let plan = clean_name("plan_is", wish.plan_is.as_deref().unwrap_or(AS_PLANNED))?;
    let mut names = vec![plan.clone()];
    for (index, option) in wish.options.iter_mut().enumerate() {
        let field = format!("option[{index}].name");
        option.name = clean_name(&field, &option.name)?;
        if names.iter().any(|known| is_same(known, &option.name)) {
            return Err(invalid(
                &field,
                format!("two options are called {}", option.name),
            ));
        }
        names.push(option.name.clone());
        let OptionInput {
            name,
            needs,
            operations,
            without,
            price,
        } = option;
        if needs.is_empty() && operations.is_empty() && without.is_empty() && price.is_none() {
            return Err(same(index, name));
        }
    }
    wish.plan_is = Some(plan);
    Ok(())
}

fn same(index: usize, name: &str) -> Failure {
    let detail = format!("the option {name} changes nothing in the plan");
    let hint = "change what it needs, leaves out or costs";
    Problem::from(invalid(&format!("option[{index}]"), detail))
        .hint(hint)
        .into()
}

/// Prices every option: the plan is changed as the option says, by the code that changes plans, and changed back.
pub(super) fn offers(
    desk: &mut Desk<'_>,
    code: GarmentCode,
    wish: &Wish,
    dates: (NaiveDate, NaiveDate),
    plan: &[CostItem],
) -> Done<Vec<(Offer, OfferFigures)>> {
    let mut offers = Vec::with_capacity(wish.options.len());
    for (index, option) in wish.options.iter().enumerate() {
        let made = desk.aside(|desk| offer(desk, code, (wish, index, option), dates, plan))?;
        offers.push(made.map_err(|failure| in_option(index, &option.name, failure))?);
    }
    Ok(offers)
}

fn offer(
    desk: &mut Desk<'_>,
    code: GarmentCode,
    (wish, index, option): (&Wish, usize, &OptionInput),
    dates: (NaiveDate, NaiveDate),
    plan: &[CostItem],
) -> Done<(Offer, OfferFigures)> {
    let booking = desk.next_booking()?;
    let changed = apply(desk, booking, code, option)?;
    let price = option.price.as_ref().filter(|price| **price != wish.price);
    if price.is_none()
        && changed
            .as_ref()
            .is_none_or(|changed| changed.plan.before == changed.plan.after)
    {
        return Err(same(index, &option.name));
    }
    let mut own = Wish {
        options: Vec::new(),
        plan_is: None,
        ..wish.clone()
    };
    match price {
        Some(price) => own.price = price.clone(),
        None => keep_priced_roles(desk, code, &mut own)?,
    }
    let made = Made::work_out(desk, code, &own, dates, plan)?;
    let mut differs = changed.map(|changed| changed.changes).unwrap_or_default();
    if price.is_some() {
        // How it is made is the workshop's: it stands inside.
        differs.push("another price".to_owned());
    }
    let Made {
        mut sheet,
        inside,
        basis,
        figures,
        ..
    } = made;
    // Cloth that is not on the shelf is called as the option is.
    let of_option = |role: &str| option.needs.iter().any(|need| is_same(need.name(), role));
    for part in &mut sheet.made_of {
        if part.material.is_none() && of_option(&part.role) {
            part.material = Some(option.name.clone());
        }
    }
    let figures = figures.ok_or_else(|| internal("an option is no supplement"))?;
    Ok((
        Offer {
            name: option.name.clone(),
            differs,
            sheet,
            inside,
            basis,
        },
        figures,
    ))
}

/// A price typed for a role goes with the need that an option leaves out.
fn keep_priced_roles(tx: &mut Tx<'_>, code: GarmentCode, wish: &mut Wish) -> Done<()> {
    let garment = load_head(tx, code)?;
    let needs = load_needs(tx, &garment)?;
    wish.price.material_price.retain(|text| {
        let role = text.split_once('=').map_or(text.as_str(), |(role, _)| role);
        needs
            .iter()
            .any(|need| is_same(&need.row.role, &spelled(role)))
    });
    Ok(())
}

/// Says which option a refusal is about. One that names its field as a whole is the option's own.
fn in_option(index: usize, name: &str, failure: Failure) -> Failure {
    match failure {
        Failure::Refused(mut problem) => {
            let own = format!("option[{index}]");
            if problem.field.as_deref() != Some(own.as_str()) {
                problem.field = Some(match problem.field {
                    Some(field) => format!("{own}.{field}"),
                    None => own,
                });
                problem.detail = format!("the option {name}: {}", problem.detail);
            }
            Failure::Refused(problem)
        }
        stopped @ Failure::Storage(_) => stopped,
    }
}

/// Changes the plan as an option says; none where only its price differs.
fn apply(
    desk: &mut Desk<'_>,
    booking: i64,
    code: GarmentCode,
    option: &OptionInput,
) -> Done<Option<Replanned>> {
    let LeftOut {
        roles: drop_needs,
        operations: drop_operations,
        seams: drop_seams,
    } = left_out(desk, code, option)?;
    let changes = PlanChanges {
        needs: option.needs.clone(),
        drop_needs,
        operations: option.operations.clone(),
        drop_operations,
        drop_seams,
        ..PlanChanges::default()
    };
    if changes.is_nothing() {
        return Ok(None);
    }
    let edit = EditGarment {
        id: Uuid::nil(),
        garment: code,
        name: None,
        due: None,
        customer: None,
        changes,
        if_version: None,
        date: None,
    };
    replan(desk, booking, &edit).map(Some)
}

/// What was agreed to when a version was accepted.
#[derive(Default)]
pub(super) struct Agreed {
    /// The option's name; none where there was nothing to choose from.
    pub(super) option: Option<String>,
    /// The plan before and after, where the option changed it.
    pub(super) plan: Option<Box<PlanChange>>,
    pub(super) notes: Vec<String>,
}

/// Nothing of what is offered was chosen.
fn no_option(asked: Option<&str>, names: &[&String]) -> Failure {
    let detail = match asked {
        Some(asked) => format!("there is no option {asked}"),
        None => format!("{} options are offered, and none is chosen", names.len()),
    };
    let hint = match asked.and_then(|asked| nearest(asked, names)) {
        Some(near) => format!("did you mean --option '{near}'?"),
        None => {
            let all: Vec<String> = names
                .iter()
                .map(|name| format!("--option '{name}'"))
                .collect();
            format!("choose with {}", all.join(" or "))
        }
    };
    Problem::from(invalid("option", detail)).hint(hint).into()
}

/// Makes the plan what the customer agreed to, under the booking of the acceptance.
pub(super) fn agree(
    desk: &mut Desk<'_>,
    booking: i64,
    code: GarmentCode,
    version: &QuotationVersion,
    asked: Option<&str>,
) -> Done<Agreed> {
    let frozen: Frozen = serde_json::from_str(&version.frozen).map_err(internal)?;
    let Some(plan) = &frozen.plan_is else {
        return match asked {
            None => Ok(Agreed::default()),
            Some(name) => {
                let detail = format!("this quotation has no options, so there is no option {name}");
                Err(Problem::from(invalid("option", detail))
                    .hint("leave --option out")
                    .into())
            }
        };
    };
    let offered = frozen.options.iter().map(|offer| &offer.name);
    let names: Vec<&String> = std::iter::once(plan).chain(offered).collect();
    let Some(asked) = asked.map(spelled) else {
        return Err(no_option(None, &names));
    };
    if is_same(plan, &asked) {
        return Ok(Agreed {
            option: Some(plan.clone()),
            ..Agreed::default()
        });
    }
    let wish: Wish = serde_json::from_str(&version.asked).map_err(internal)?;
    let Some(option) = wish
        .options
        .iter()
        .find(|option| is_same(&option.name, &asked))
    else {
        return Err(no_option(Some(&asked), &names));
    };
    let changed = apply(desk, booking, code, option)?;
    let (plan, notes) = changed.map_or((None, Vec::new()), |changed| {
        (Some(changed.plan), changed.notes)
    });
    let plan = plan.filter(|plan| plan.before != plan.after).map(Box::new);
    Ok(Agreed {
        option: Some(option.name.clone()),
        plan,
        notes,
    })
}

/// The figures of the plan and its options side by side.
pub(super) fn compared(
    (plan, first): (&str, &OfferFigures),
    not_priced: &[String],
    offers: &[(Offer, OfferFigures)],
) -> Done<Vec<OptionFigures>> {
    let mut all = vec![figures(plan, first, not_priced, None)?];
    for (offer, own) in offers {
        all.push(figures(
            &offer.name,
            own,
            &offer.inside.not_priced,
            Some(first),
        )?);
    }
    Ok(all)
}

fn figures(
    name: &str,
    own: &OfferFigures,
    not_priced: &[String],
    first: Option<&OfferFigures>,
) -> Done<OptionFigures> {
    let more = match first {
        None => None,
        Some(first) => {
            let more = own.more_than(first).map_err(internal)?;
            Some(OptionDifference {
                cost: Micro(more.cost),
                own_minutes: more.own_minutes,
                paid_minutes: more.paid_minutes,
                net: Micro(more.net),
                gross: Micro(more.gross),
                profit: Micro(more.profit),
                hour_earns: more.hour.map(Micro),
            })
        }
    };
    Ok(OptionFigures {
        name: name.to_owned(),
        cost: Micro(own.cost),
        own_minutes: own.own_minutes.get(),
        paid_minutes: own.paid_minutes.get(),
        net: Micro(own.net),
        gross: Micro(own.gross),
        profit: Micro(own.profit.amount),
        markup_percent: own.profit.markup_shown.map(|share| share.to_string()),
        margin_percent: own.profit.margin_shown.map(|share| share.to_string()),
        hour_earns: own.hour.map(Micro),
        not_priced: not_priced.to_vec(),
        more,
    })
}
