//! A need as the book holds it: its row, and what its plan says.

mod build;
mod input;
mod lays;
mod parts;
mod reels;
mod resolve;
mod role;
mod stiff;
#[cfg(test)]
mod tests;
mod trim;
mod units;

pub(crate) use trim::{same_colour, size_of};

pub(crate) use lays::laid;
pub(crate) use parts::Along;

use crate::{
    desk::{
        Desk,
        context::Context,
        counter,
        failure::{Done, invalid, not_found},
    },
    shelf::shelved::Measure,
};
use ellwand_contract::{Problem, ProblemType, garments::NeedInput};
use ellwand_domain::{
    code::GarmentCode,
    ledger::Quantity,
    need::{ClothDemand, Estimate, PlannedNeed, Takes, WidthLength},
    quantity::{Count, Micrometres},
    shrinkage::Preparation,
    thread::ReelError,
};
use ellwand_storage::{Garment, Need, Tx};

/// A need: what is planned for one garment, and what its units take for so many alike.
#[derive(Debug, Clone)]
pub(crate) struct NeedRecord {
    pub(crate) row: Need,
    pub(crate) plan: PlannedNeed,
    /// Cloth and interlining: one unit; with `one_length` the whole batch's length joined.
    pub(crate) demand: Option<ClothDemand>,
    /// Thread and trims: one unit; of several reels at once, what each gives for the whole batch.
    pub(crate) per_unit: Option<Quantity>,
    /// True for counted trims.
    pub(crate) counted: bool,
    pub(crate) longest_part: Option<Micrometres>,
    /// Kept lays of its parts, where they were read with it.
    pub(crate) lays: Vec<lays::LayOfNeed>,
}

impl NeedRecord {
    /// Reads a stored need of a garment of which `garment_count` alike are made.
    pub(crate) fn read(row: Need, garment_count: i64) -> Done<Self> {
        let plan = read_plan(&row)?;
        Self::assemble(row, plan, garment_count)
    }

    /// Checks a need and gives it a number; it is not saved yet. Refusals name the need's field (`length`).
    pub(crate) fn new(
        desk: &mut Desk<'_>,
        garment_id: i64,
        garment_count: i64,
        input: &NeedInput,
    ) -> Done<Self> {
        let (input, kind) = resolve::resolve(desk, input)?;
        let plan = build::planned(&input, kind)?;
        let need = serde_json::to_string(&plan)
            .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()))?;
        let row = Need {
            id: desk.tx.next_numbers(counter::NEED, 1)?,
            garment_id,
            role: input.role,
            kind: plan.kind(),
            need,
            units: plan.units(garment_count),
            estimate: None,
            dropped: false,
            detail: input.detail,
            same_lot_as: input.same_lot_as.map(GarmentCode::get),
        };
        let mut record = Self::assemble(row, plan, garment_count)?;
        if let Some(text) = &record.plan.estimate {
            let money = Estimate::parse(text)
                .map_err(|error| invalid("estimate", error.to_string()))?
                .money;
            record.row.estimate = Some(desk.context.home_money("estimate", money)?.get());
        }
        Ok(record)
    }

    fn assemble(row: Need, plan: PlannedNeed, garment_count: i64) -> Done<Self> {
        let demand = plan.demand(garment_count).map_err(parts::refused)?;
        let per_unit = plan.per_unit(garment_count).map_err(|error| match error {
            ReelError::Quantity(error) => error.into(),
            error => invalid("reels", error.to_string()),
        })?;
        let parts = demand.as_ref().and_then(ClothDemand::parts);
        let longest_part = match (&plan.takes, parts) {
            // A lay of one's own is one length.
            (_, Some(parts)) if parts.own().is_some() => None,
            (_, Some(parts)) => Some(parts.tallest()?),
            (Takes::Cloth { longest_part, .. }, _) => longest_part.as_ref().map(|part| part.value),
            _ => None,
        };
        Ok(Self {
            counted: plan.count().0.is_some(),
            row,
            plan,
            demand,
            per_unit,
            longest_part,
            lays: Vec::new(),
        })
    }

    /// The garment whose lot it must be of.
    pub(crate) fn same_lot_as(&self) -> Option<GarmentCode> {
        self.row.same_lot_as.map(GarmentCode::new)
    }

    /// What one garment takes of thread and trims in all.
    pub(crate) fn length_of_one(&self) -> Option<Quantity> {
        self.plan.of_one().ok().flatten()
    }

    pub(crate) fn measure(&self) -> Measure {
        Measure::of(self.row.kind, self.counted)
    }

    /// How much one garment needs, for people: `2.60 m washed at 140 cm`, `6 pcs`, `200 m`.
    pub(crate) fn amount_text(&self, context: &Context<'_>) -> String {
        let units = context.units();
        if let Some(quantity) = self.length_of_one() {
            if self.counted {
                return self.counted_text(Count::new(quantity.get()).unwrap_or(Count::MAX));
            }
            return self.measure().show_taken(context, quantity);
        }
        let Some(of_one) = self.of_one() else {
            return String::new();
        };
        let state = match of_one.preparation {
            Some(done) if !done.is_nothing() => format!(" {done}"),
            _ => String::new(),
        };
        if let Some(parts) = of_one.parts() {
            return parts::amount(&of_one, parts, &state, units);
        }
        let one = |entry: &WidthLength| {
            let at = entry.width.map_or_else(String::new, |width| {
                format!(" at {}", width.show_width(units))
            });
            format!("{}{state}{at}", entry.length.show_taken(units))
        };
        let lengths = of_one.by_width().iter();
        lengths.map(one).collect::<Vec<_>>().join(" or ")
    }

    /// Conditions for people, each in a few words, in the units they were typed in; `material`: the name of the one that is
    /// asked for.
    pub(crate) fn conditions(&self, context: &Context<'_>, material: Option<&str>) -> Vec<String> {
        let mut conditions = self.part_conditions(context.units());
        let (asked, cloth) = (&self.plan.conditions, self.plan.cloth());
        let mut add = |condition: Option<String>| conditions.extend(condition);
        add(cloth.preparation.map(|preparation| match preparation {
            Preparation::None => "cut as it is, without a preparation".to_owned(),
            Preparation::Raw => "cut raw, never washed or steamed".to_owned(),
            other => format!("{other} before it is cut"),
        }));
        add(asked.material.map(|code| match material {
            Some(name) => format!("only {name} ({code})"),
            None => format!("only {code}"),
        }));
        add(asked.lot.map(|lot| format!("only {lot}")));
        let like = self.same_lot_as();
        add(like.map(|garment| format!("same lot as {garment}")));
        let fibre = asked.fibre.as_ref();
        add(fibre.map(|fibre| format!("contains {fibre}")));
        let least = cloth.mass_min.as_ref();
        add(least.map(|mass| format!("{} or more", mass.text)));
        let most = cloth.mass_max.as_ref();
        add(most.map(|mass| format!("{} or less", mass.text)));
        let seams = self.plan.seams();
        add(seams.then(|| "the length comes from the seam plan".to_owned()));
        if let Takes::Cloth { longest_part, .. } = &self.plan.takes {
            let longest = longest_part.as_ref();
            add(longest.map(|length| format!("longest part {}", length.text)));
        }
        add(asked.mixing.then(|| "several lots may be mixed".to_owned()));
        let repeats = cloth.match_repeat;
        add(repeats.then(|| "the pattern must match: whole repeats".to_owned()));
        let by_parts = self.parts().is_some();
        let joined = match by_parts {
            false => "the batch's lengths are joined into one",
            true => "the batch's parts are laid together",
        };
        add(self.reels_condition(context));
        add(cloth.one_length.then(|| joined.to_owned()));
        // Each part says its own.
        let grain = cloth.grain.filter(|_| !by_parts);
        add(grain.map(|grain| format!("{grain} grain along the part")));
        conditions.extend(self.lay_conditions(context));
        conditions.extend(self.stiff_conditions());
        conditions.extend(self.trim_conditions());
        conditions
    }

    /// True where thread and trims cost what their own lot did: one lot is insisted on.
    pub(crate) const fn own_lot(&self) -> bool {
        self.plan.conditions.lot.is_some() || self.row.same_lot_as.is_some()
    }
}

/// True where a stored need insists on a lot, so that thread and trims cost what their own lot did.
pub(crate) fn insists_on_lot(need: &Need) -> Done<bool> {
    Ok(need.same_lot_as.is_some() || read_plan(need)?.conditions.lot.is_some())
}

/// What a stored need says.
pub(crate) fn read_plan(need: &Need) -> Done<PlannedNeed> {
    serde_json::from_str(&need.need).map_err(|error| {
        Problem::new(
            ProblemType::Internal,
            format!("a stored need cannot be read: {error}"),
        )
        .into()
    })
}

/// A garment with its needs in the order of the plan, dropped ones left out.
pub(crate) fn load_garment(tx: &mut Tx<'_>, code: GarmentCode) -> Done<(Garment, Vec<NeedRecord>)> {
    let garment = load_head(tx, code)?;
    let needs = load_needs(tx, &garment)?;
    Ok((garment, needs))
}

/// A garment alone.
pub(crate) fn load_head(tx: &mut Tx<'_>, code: GarmentCode) -> Done<Garment> {
    tx.garment(code.get())?
        .ok_or_else(|| not_found(format!("garment {code}"), "see ellwand garment list"))
}

/// Needs of a garment in the order of the plan, dropped ones left out.
pub(crate) fn load_needs(tx: &mut Tx<'_>, garment: &Garment) -> Done<Vec<NeedRecord>> {
    let rows = tx.needs(garment.id)?;
    let rows = rows.into_iter().filter(|row| !row.dropped);
    rows.map(|row| NeedRecord::load(tx, row, garment)).collect()
}
