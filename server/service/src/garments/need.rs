//! A need as the book holds it, with its amounts and conditions read.

mod check;
mod parts;
mod reels;
mod stiff;
mod trim;
mod units;

pub(crate) use trim::{same_colour, size_of};

pub(crate) use parts::Along;

use crate::{
    context::Context,
    desk::{Desk, counter},
    failure::{Done, not_found},
    shelved::show,
};
use ellwand_contract::{Problem, ProblemType, garments::NeedInput};
use ellwand_domain::{
    code::GarmentCode,
    ledger::Quantity,
    need::{ClothDemand, WidthLength},
    quantity::{Count, Micrometres, MilligramsPerM2},
    shrinkage::Preparation,
};
use ellwand_storage::{Garment, Need, Tx};

/// A need with what its JSON says.
#[derive(Debug, Clone)]
pub(crate) struct NeedRecord {
    pub(crate) row: Need,
    /// As stored: the kind is set, the material is a code, the fibre one of the book's names.
    pub(crate) input: NeedInput,
    /// Cloth and interlining: one unit; with `one_length` the whole batch's length joined.
    pub(crate) demand: Option<ClothDemand>,
    /// Thread and trims: one unit; of several reels at once, what each gives for the whole batch.
    pub(crate) per_unit: Option<Quantity>,
    /// True for counted trims.
    pub(crate) counted: bool,
    pub(crate) mass_min: Option<MilligramsPerM2>,
    pub(crate) mass_max: Option<MilligramsPerM2>,
    pub(crate) longest_part: Option<Micrometres>,
}

impl NeedRecord {
    /// Reads a stored need of a garment of which `garment_count` alike are made.
    pub(crate) fn read(row: Need, garment_count: i64) -> Done<Self> {
        let input: NeedInput = serde_json::from_str(&row.need).map_err(|error| {
            Problem::new(
                ProblemType::Internal,
                format!("a stored need cannot be read: {error}"),
            )
        })?;
        let amounts = check::amounts(&input, row.kind, garment_count)?;
        Ok(Self::assemble(row, input, amounts))
    }

    /// Checks a need and gives it a number; it is not saved yet. Refusals name the need's field (`length`).
    pub(crate) fn new(
        desk: &mut Desk<'_>,
        garment_id: i64,
        garment_count: i64,
        input: &NeedInput,
    ) -> Done<Self> {
        let (input, kind) = check::resolve(desk, input)?;
        let amounts = check::amounts(&input, kind, garment_count)?;
        let estimate = match &input.estimate {
            Some(text) => Some(desk.context.home_money("estimate", text)?.get()),
            None => None,
        };
        let need = serde_json::to_string(&input)
            .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()))?;
        let row = Need {
            id: desk.tx.next_numbers(counter::NEED, 1)?,
            garment_id,
            role: input.role.clone(),
            kind,
            need,
            units: reels::units(&input, garment_count),
            estimate,
            dropped: false,
            detail: input.detail.clone(),
            same_lot_as: input.same_lot_as.map(GarmentCode::get),
        };
        Ok(Self::assemble(row, input, amounts))
    }

    fn assemble(row: Need, input: NeedInput, amounts: check::Amounts) -> Self {
        let check::Amounts {
            demand,
            per_unit,
            counted,
            mass_min,
            mass_max,
            longest_part,
        } = amounts;
        Self {
            row,
            input,
            demand,
            per_unit,
            counted,
            mass_min,
            mass_max,
            longest_part,
        }
    }

    /// How much one garment needs, for people: `2.60 m washed at 140 cm`, `6 pcs`, `200 m`.
    pub(crate) fn amount_text(&self, context: &Context<'_>) -> String {
        let units = context.units();
        if let Some(quantity) = self.length_of_one() {
            if self.counted {
                return self.counted_text(Count::new(quantity.get()).unwrap_or(Count::MAX));
            }
            return show(context, false, quantity);
        }
        let state = match self.input.preparation {
            Some(done) if !done.is_nothing() => format!(" {done}"),
            _ => String::new(),
        };
        let one = |entry: &WidthLength| {
            let at = entry.width.map_or_else(String::new, |width| {
                format!(" at {}", width.show_width(units))
            });
            format!("{}{state}{at}", entry.length.show(units))
        };
        if let Some(parts) = self.parts() {
            return self.parts_amount(&parts, &state, units);
        }
        let lengths = check::lengths(&self.input).unwrap_or_default();
        lengths.iter().map(one).collect::<Vec<_>>().join(" or ")
    }

    /// Conditions for people, each in a few words, in the units they were typed in.
    pub(crate) fn conditions(&self, context: &Context<'_>) -> Vec<String> {
        let input = &self.input;
        let mut conditions = self.part_conditions(context.units());
        let mut add = |condition: Option<String>| conditions.extend(condition);
        add(input.preparation.map(|preparation| match preparation {
            Preparation::None => "cut as it is, without a preparation".to_owned(),
            Preparation::Raw => "cut raw, never washed or steamed".to_owned(),
            other => format!("{other} before it is cut"),
        }));
        add(input
            .material
            .as_ref()
            .map(|material| format!("only {material}")));
        add(input.lot.map(|lot| format!("only {lot}")));
        add(input
            .same_lot_as
            .map(|garment| format!("same lot as {garment}")));
        add(input
            .fibre
            .as_ref()
            .map(|fibre| format!("contains {fibre}")));
        add(input
            .mass_min
            .as_ref()
            .map(|mass| format!("{mass} or more")));
        add(input
            .mass_max
            .as_ref()
            .map(|mass| format!("{mass} or less")));
        add(input
            .seams
            .then(|| "the length comes from the seam plan".to_owned()));
        add(input
            .longest_part
            .as_ref()
            .map(|length| format!("longest part {length}")));
        add(input.mixing.then(|| "several lots may be mixed".to_owned()));
        add(input
            .match_repeat
            .then(|| "the pattern must match: whole repeats".to_owned()));
        let joined = match input.parts.is_empty() {
            true => "the batch's lengths are joined into one",
            false => "the batch's parts are laid together",
        };
        add(self.reels_condition(context));
        add(input.one_length.then(|| joined.to_owned()));
        // Each part says its own.
        let grain = input.grain.filter(|_| input.parts.is_empty());
        add(grain.map(|grain| format!("{grain} grain along the part")));
        conditions.extend(self.stiff_conditions());
        conditions.extend(self.trim_conditions());
        conditions
    }

    /// True where thread and trims cost what their own lot did: one lot is insisted on.
    pub(crate) const fn own_lot(&self) -> bool {
        self.input.lot.is_some() || self.input.same_lot_as.is_some()
    }
}

/// True where a stored need insists on a lot, so that thread and trims cost what their own lot did.
pub(crate) fn insists_on_lot(need: &str) -> Done<bool> {
    let input: NeedInput = serde_json::from_str(need).map_err(|error| {
        Problem::new(
            ProblemType::Internal,
            format!("a stored need cannot be read: {error}"),
        )
    })?;
    Ok(input.lot.is_some() || input.same_lot_as.is_some())
}

/// A garment with its needs in the order of the plan, dropped ones left out.
pub(crate) fn load_garment(tx: &mut Tx<'_>, code: GarmentCode) -> Done<(Garment, Vec<NeedRecord>)> {
    let garment = load_head(tx, code)?;
    let needs = load_needs(tx, &garment)?;
    Ok((garment, needs))
}

/// A garment alone.
pub(crate) fn load_head(tx: &mut Tx<'_>, code: GarmentCode) -> Done<Garment> {
    tx.garment(code.get())?.ok_or_else(|| {
        not_found(
            format!("garment {code}"),
            "see the list of garments for the ones there are",
        )
    })
}

/// Needs of a garment in the order of the plan, dropped ones left out.
pub(crate) fn load_needs(tx: &mut Tx<'_>, garment: &Garment) -> Done<Vec<NeedRecord>> {
    let rows = tx.needs(garment.id)?;
    rows.into_iter()
        .filter(|row| !row.dropped)
        .map(|row| NeedRecord::read(row, garment.count))
        .collect()
}
