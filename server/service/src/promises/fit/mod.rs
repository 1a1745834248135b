//! Does this piece serve that need, and how much of it does one unit take?

mod conditions;
mod mass;

pub(crate) use conditions::{doubts, not_the_owner, still_to_do};

use crate::{
    desk::{
        Desk,
        context::Context,
        failure::{Done, Failure},
    },
    garments::need::NeedRecord,
    promises::{Asked, repeats},
    shelf::{
        shelved::{LotRecord, Shelved},
        stiffness,
    },
};
use ellwand_contract::{
    Problem, ProblemType,
    wash::{KnownShrinkage, Shrinkage},
};
use ellwand_domain::{
    certainty::Certainty,
    cloth::FibreShare,
    code::{GarmentCode, LayCode},
    ledger::{Quantity, Rectangle},
    need::{
        ClothDemand, ClothFacts, ClothFit, Misfit, fit_cloth, fit_unshrunk, washed_of, washes_done,
    },
    quantity::{Micrometres, PartsPerMillion},
    setting::{Basis, Kind, LengthBy, WhyNot},
    shrinkage::{
        Candidates, Chosen, Preparation, ShrinkageError, Stated, WashTest, most_shrinkage, step,
    },
};
use ellwand_storage::{Garment, Tx};

/// How much of a piece one unit of a need takes, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct UnitFit {
    /// Rounded up to the cutting step.
    pub(crate) takes: Quantity,
    /// What serves without that rounding.
    pub(crate) least: Quantity,
    pub(crate) washed: Option<Micrometres>,
    pub(crate) width: Option<Micrometres>,
    /// Usable width when it is cut.
    pub(crate) usable: Option<Micrometres>,
    pub(crate) basis: Option<Basis>,
    /// What the length of parts comes from.
    pub(crate) length_by: Option<LengthBy>,
    /// The kept lay that it is, where it is no mere share of one.
    pub(crate) lay: Option<LayCode>,
    /// For people: `4.57 % lengthwise, 1.43 % crosswise, measured (wash test 1)`.
    pub(crate) shrinkage: Option<String>,
    /// The same, each direction with its certainty and source.
    pub(crate) directions: Option<Shrinkage>,
    /// Of what counts for it: the length, and the width where one is asked for.
    pub(crate) certainty: Certainty,
    pub(crate) steps: Vec<String>,
    /// The last step, where it rounds up.
    pub(crate) rounding: Option<String>,
    pub(crate) notes: Vec<String>,
}

impl UnitFit {
    /// What a promise kept of its fit, where that cannot be worked out any more.
    pub(crate) fn held(asked: Asked, lay: Option<i64>, takes: Quantity) -> Self {
        let um = |um: Option<i64>| um.and_then(|um| Micrometres::new(um).ok());
        Self {
            takes,
            least: takes,
            washed: um(asked.washed_um),
            width: um(asked.width_um),
            usable: um(asked.usable_um),
            basis: asked.basis,
            length_by: asked.length_by,
            lay: lay.map(LayCode::new),
            shrinkage: asked.shrinkage,
            directions: asked.directions,
            certainty: Certainty::Unknown,
            steps: asked.steps,
            rounding: None,
            notes: Vec::new(),
        }
    }

    /// The same without rounding up to the cutting step, where the cloth is too short for that.
    pub(crate) fn closely(&self) -> Self {
        Self {
            takes: self.least,
            rounding: None,
            ..self.clone()
        }
    }

    /// As many as `wanted` at most that these lengths hold, and what they take of them: rounded up where that fits.
    pub(crate) fn within(&self, rooms: &[Quantity], wanted: i64) -> (i64, Self) {
        let in_one =
            |room: &Quantity, one: Quantity| room.get().checked_div(one.get()).unwrap_or(0);
        let held = |one: Quantity| {
            let all = rooms.iter().map(|room| in_one(room, one));
            all.fold(0, i64::saturating_add).min(wanted)
        };
        let (rounded, close) = (held(self.takes), held(self.least));
        if rounded < close {
            (close, self.closely())
        } else {
            (rounded, self.clone())
        }
    }

    /// The whole sum.
    pub(crate) fn all_steps(&self) -> Vec<String> {
        self.steps.iter().chain(&self.rounding).cloned().collect()
    }
}

/// Why it does not serve.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Reason {
    /// In one word.
    pub(crate) why: WhyNot,
    pub(crate) text: String,
    pub(crate) hint: String,
    /// Its figures, by the names that a problem gives them.
    numbers: Vec<(&'static str, i64)>,
}

impl Reason {
    pub(crate) fn new(why: WhyNot, text: impl Into<String>, hint: &str) -> Self {
        Self {
            why,
            text: text.into(),
            hint: hint.to_owned(),
            numbers: Vec::new(),
        }
    }

    /// With nothing better to do than to take another piece.
    pub(crate) fn other(why: WhyNot, text: impl Into<String>) -> Self {
        Self::new(why, text, "choose another piece, or change the need")
    }

    pub(crate) fn unknown(text: impl Into<String>, hint: &str) -> Self {
        Self::new(WhyNot::Unknown, text, hint)
    }

    /// Adds a figure.
    fn with(mut self, name: &'static str, number: i64) -> Self {
        self.numbers.push((name, number));
        self
    }

    /// True where something about the piece is not known.
    pub(crate) fn is_unknown(&self) -> bool {
        self.why == WhyNot::Unknown
    }

    /// As a refusal of an act on this piece.
    pub(crate) fn refuse(self, shelved: &Shelved, need: &NeedRecord) -> Failure {
        let detail = format!(
            "{} cannot serve the {}: {}",
            shelved.code(),
            need.row.role,
            self.text
        );
        let kind = match self.is_unknown() {
            true => ProblemType::Unknown,
            false => ProblemType::DoesNotServe,
        };
        let mut problem = Problem::new(kind, detail)
            .hint(self.hint)
            .with("piece", shelved.code().to_string())
            .with("need", need.row.role.as_str());
        for (name, number) in self.numbers {
            problem = problem.with(name, number);
        }
        problem.into()
    }
}

/// The shrinkage of a lot that counts for a preparation.
pub(crate) fn shrinkage_of(
    tx: &mut Tx<'_>,
    record: &LotRecord,
    preparation: Preparation,
) -> Done<Result<Chosen, ShrinkageError>> {
    step_of(tx, record, preparation, 0)
}

/// What is left of that for cloth that was washed `done` times already.
pub(crate) fn step_of(
    tx: &mut Tx<'_>,
    record: &LotRecord,
    preparation: Preparation,
    done: u8,
) -> Done<Result<Chosen, ShrinkageError>> {
    let mut tests = Vec::new();
    for row in tx.wash_tests(record.lot.id)?.iter().rev() {
        let test: WashTest = serde_json::from_str(&row.test).map_err(|error| {
            Problem::new(
                ProblemType::Internal,
                format!("a stored wash test: {error}"),
            )
        })?;
        tests.push((row.number, test));
    }
    let sheet = &record.sheet;
    let mut stated = Stated::default();
    if let Some(typed) = &sheet.shrinkage {
        let holds_for = typed.preparation.as_deref().map(str::parse::<Preparation>);
        let holds_for = holds_for
            .and_then(Result::ok)
            .unwrap_or(Preparation::Washed { times: 1 });
        if holds_for.same_kind(preparation) {
            let share = |text: &str| text.parse::<PartsPerMillion>().ok();
            stated = Stated {
                length: share(&typed.length),
                width: typed.width.as_deref().and_then(share),
            };
        }
    }
    let mut fibres = Vec::new();
    for fibre in &sheet.fibres {
        let share: PartsPerMillion = fibre.share.parse()?;
        fibres.extend(FibreShare::new(&fibre.fibre, share).ok());
    }
    let candidates = Candidates {
        preparation,
        tests: &tests,
        pinned: sheet.wash_test,
        stated,
        fibres: &fibres,
        construction: sheet.construction.as_deref(),
    };
    Ok(step(&candidates, done))
}

/// Fits one unit of a need to a piece; `part`: so much of it, a washed length of cloth.
pub(crate) fn fit(
    desk: &mut Desk<'_>,
    garment: &Garment,
    need: &NeedRecord,
    shelved: &Shelved,
    part: Option<Quantity>,
) -> Done<Result<UnitFit, Reason>> {
    if let Some(reason) = conditions::first_not_met(desk, garment, need, shelved)? {
        return Ok(Err(reason));
    }
    if let Some(per_unit) = need.per_unit {
        let takes = part.unwrap_or(per_unit);
        return Ok(Ok(UnitFit {
            takes,
            least: takes,
            washed: None,
            width: None,
            usable: None,
            basis: None,
            length_by: None,
            lay: None,
            shrinkage: None,
            directions: None,
            certainty: if need.plan.seams() || shelved.stored.estimated {
                Certainty::Estimated
            } else {
                Certainty::Measured
            },
            steps: thread_steps(desk.context, garment, need),
            rounding: None,
            notes: Vec::new(),
        }));
    }
    let length = part.map(|part| Micrometres::new(part.get())).transpose()?;
    let fitted = match fit_length(desk, need, shelved, length)? {
        Ok(fit) => mass::check(need, shelved, &fit)?.map(|()| fit),
        Err(reason) => Err(reason),
    };
    match fitted {
        Ok(fit) => {
            let mut of_repeat = Vec::new();
            let fit = repeats::counted(desk, need, shelved, fit, &mut of_repeat)?;
            let mut unit = unit_fit(desk.context, need, shelved, &fit);
            unit.notes.extend(of_repeat);
            unit.notes.extend(need.band_notes(desk, &shelved.record)?);
            if let Some(length) = fit.shorter_by_chart().filter(|_| part.is_none()) {
                let (length, usable) = (
                    length.show_taken(desk.context.units()),
                    fit.usable.show_width(desk.context.units()),
                );
                unit.notes.push(format!(
                    "it is wider than planned: the published width chart gives {length} at {usable}, an estimate; plan \
                     that length if every part fits it"
                ));
            }
            Ok(Ok(unit))
        }
        Err(reason) => Ok(Err(reason)),
    }
}

/// The pre-wash sum of a piece for a need of cloth or interlining, whatever its other conditions.
fn fit_length(
    desk: &mut Desk<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    part: Option<Micrometres>,
) -> Done<Result<ClothFit, Reason>> {
    let (Some(demand), Some(rectangle)) = (&need.demand, shelved.stored.piece.rectangle) else {
        return Ok(Err(Reason::new(
            WhyNot::Other,
            "it has no width",
            "choose a piece of cloth or interlining",
        )));
    };
    let mut demand = demand.clone();
    demand.most = part;
    let facts = facts(desk, shelved, rectangle, demand.preparation)?;
    let rule = desk.context.rule()?;
    let misfit = match fit_cloth(&demand, &facts, rule) {
        Ok(fit) => return Ok(Ok(fit)),
        Err(misfit) => misfit,
    };
    // What is too narrow at its best is not sent to a swatch.
    let at_best = fit_unshrunk(&demand, &facts, rule).err();
    if let (Misfit::ShrinkageUnknown(_), Some(at_best)) = (&misfit, at_best) {
        return Ok(Err(misfit_reason(desk.context, shelved, &demand, &at_best)));
    }
    let mut reason = misfit_reason(desk.context, shelved, &demand, &misfit);
    if matches!(misfit, Misfit::Undecided) {
        reason.hint = how_to_decide(need);
    }
    if let Ok(chosen) = &facts.shrinkage
        && chosen.width_certainty == Certainty::Estimated
        && let Misfit::TooNarrow { wanted, .. } | Misfit::PartTooWide { across: wanted, .. } =
            &misfit
    {
        let decides = decides(rectangle.usable(), *wanted, "crosswise");
        reason.text.push_str(&decides);
    }
    Ok(Err(reason))
}

/// What would decide whether a piece of estimated shrinkage serves: `; it serves if it shrinks at most 9 % lengthwise: test a
/// swatch`. Nothing where it is too small as it is.
pub(crate) fn decides(has: Micrometres, needed: Micrometres, direction: &str) -> String {
    most_shrinkage(has, needed).map_or_else(String::new, |most| {
        format!("; it serves if it shrinks at most {most} {direction}: test a swatch")
    })
}

/// The least that a unit takes off a piece of cloth at best, if it does not shrink at all; nothing for what has no width, or does not
/// serve at any length.
pub(crate) fn least_at_best(
    desk: &mut Desk<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
) -> Done<Option<Quantity>> {
    let (Some(demand), Some(rectangle)) = (&need.demand, shelved.stored.piece.rectangle) else {
        return Ok(None);
    };
    let facts = facts(desk, shelved, rectangle, demand.preparation)?;
    let fit = fit_unshrunk(demand, &facts, desk.context.rule()?).ok();
    Ok(fit.map(|fit| fit.least.into()))
}

/// What a piece of cloth offers a need that asks for this preparation.
fn facts(
    tx: &mut Tx<'_>,
    shelved: &Shelved,
    rectangle: Rectangle,
    wanted: Option<Preparation>,
) -> Done<ClothFacts> {
    let preparation = shelved.stored.preparation;
    let done = washes_done(wanted, preparation);
    let shrinkage = step_of(
        tx,
        &shelved.record,
        wanted.unwrap_or(Preparation::None),
        done,
    )?;
    Ok(ClothFacts {
        rectangle,
        preparation,
        shrinkage,
    })
}

/// What lengths of a piece are in the measure of the need, and the usable width that cloth has when it is cut.
pub(crate) fn measured<const N: usize>(
    tx: &mut Tx<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    lengths: [Quantity; N],
) -> Done<([i64; N], Option<i64>)> {
    let (Some(demand), Some(rectangle)) = (&need.demand, shelved.stored.piece.rectangle) else {
        return Ok((lengths.map(Quantity::get), None));
    };
    let facts = facts(tx, shelved, rectangle, demand.preparation)?;
    let (mut measured, mut width) = ([0; N], rectangle.usable());
    for (measured, length) in measured.iter_mut().zip(lengths) {
        let (washed, usable) =
            washed_of(demand.preparation, &facts, Micrometres::new(length.get())?)?;
        (*measured, width) = (washed.get(), usable);
    }
    Ok((measured, Some(width.get())))
}

/// Where the length of a thread need comes from, and how reels share it.
fn thread_steps(context: &Context<'_>, garment: &Garment, need: &NeedRecord) -> Vec<String> {
    let code = GarmentCode::new(garment.id);
    let seams = need.plan.seams().then(|| {
        format!(
            "{} for one by the seam plan of {code}, ends and waste included",
            need.amount_text(context)
        )
    });
    seams
        .into_iter()
        .chain(need.reels_step(context, garment.count))
        .collect()
}

fn unit_fit(
    context: &Context<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    fit: &ClothFit,
) -> UnitFit {
    let mut notes = Vec::new();
    let mut certainty = Certainty::Measured;
    let (mut shrinkage, mut directions) = (None, None);
    if let Some(chosen) = &fit.shrinkage {
        certainty = if fit.width.is_some() {
            chosen.weaker()
        } else {
            chosen.certainty
        };
        shrinkage = Some(chosen.to_string());
        directions = Some(by_direction(chosen));
        if fit.width_is_assumed() {
            notes.push(
                "how it shrinks crosswise is unknown: its width was left as it is".to_owned(),
            );
        }
        let estimated = |certainty| certainty == Certainty::Estimated;
        let which = match (
            estimated(chosen.certainty),
            estimated(chosen.width_certainty),
        ) {
            (true, false) if chosen.width.is_some() => Some("lengthwise shrinkage"),
            (true, _) => Some("shrinkage"),
            (false, true) => Some("crosswise shrinkage"),
            (false, false) => None,
        };
        notes.extend(
            which.map(|which| format!("the {which} is an estimate: test a swatch before you cut")),
        );
    }
    if shelved.record.kind() == Kind::Interlining {
        notes.extend(stiffness::along_need(&shelved.record.sheet, need));
    }
    let whole = fit.laid.as_ref().filter(|laid| laid.length == fit.washed);
    UnitFit {
        takes: fit.takes.into(),
        least: fit.least.into(),
        washed: Some(fit.washed),
        width: fit.width,
        usable: Some(fit.usable),
        basis: Some(fit.basis),
        length_by: fit.laid.as_ref().map(|laid| laid.by),
        lay: whole.and_then(|laid| laid.kept).map(|kept| kept.lay),
        shrinkage,
        directions,
        certainty,
        steps: fit.steps(context.units()),
        rounding: fit.rounding(context.units()),
        notes,
    }
}

/// Each direction with its certainty and source.
fn by_direction(chosen: &Chosen) -> Shrinkage {
    let Chosen {
        length,
        width,
        certainty,
        width_certainty,
        kind: _,
        source,
        width_source,
    } = chosen;
    Shrinkage {
        lengthwise: KnownShrinkage {
            share: Some(length.shrinkage_ppm().to_string()),
            certainty: *certainty,
            source: source.clone(),
        },
        crosswise: KnownShrinkage {
            share: width.map(|width| width.shrinkage_ppm().to_string()),
            certainty: *width_certainty,
            source: width_source.clone(),
        },
    }
}

fn how_to_decide(need: &NeedRecord) -> String {
    let (garment, role) = (GarmentCode::new(need.row.garment_id), &need.row.role);
    format!("state it: ellwand garment edit {garment} --need 'role={role},preparation=washed'")
}

fn misfit_reason(
    context: &Context<'_>,
    shelved: &Shelved,
    demand: &ClothDemand,
    misfit: &Misfit,
) -> Reason {
    let lot = shelved.record.code();
    let done = demand.preparation.unwrap_or(Preparation::None);
    let text = misfit.show(context.units());
    let reason = match misfit {
        Misfit::Undecided => Reason::unknown(text, "state the preparation in the need"),
        Misfit::ShrinkageUnknown(_) => Reason::unknown(
            text,
            &format!(
                "test a swatch with ellwand wash test {lot}, or enter the seller's figure: ellwand lot edit {lot} \
                 --shrinkage '3%/1% {done}'"
            ),
        ),
        Misfit::TooNarrow {
            chart: Some(length),
            ..
        } => Reason::new(
            WhyNot::Narrow,
            format!(
                "{text}; the published width chart gives {} at that width, an estimate",
                length.show_taken(context.units())
            ),
            "plan a length for that width if every part fits it",
        ),
        Misfit::TooNarrow { .. } | Misfit::PartTooWide { .. } => {
            Reason::other(WhyNot::Narrow, text)
        }
        Misfit::OtherPreparation { .. } => Reason::other(WhyNot::Preparation, text),
        Misfit::Quantity(_) => Reason::other(WhyNot::Other, text),
    };
    match misfit {
        Misfit::TooNarrow { usable, wanted, .. }
        | Misfit::PartTooWide {
            usable,
            across: wanted,
            ..
        } => reason
            .with("wanted_um", wanted.get())
            .with("usable_um", usable.get()),
        _ => reason,
    }
}
