//! How stiff a need wants its interlining along the part's long side.

use super::{
    NeedRecord,
    build::{in_order, typed},
};
use crate::{
    desk::failure::{Done, invalid},
    promises::fit::Reason,
    shelf::{
        shelved::LotRecord,
        stiffness::{Known, on},
    },
};
use ellwand_contract::{Problem, garments::NeedInput};
use ellwand_domain::{
    code::LotCode,
    need::Stiffness,
    quantity::AsTyped,
    setting::{Grain, Kind, WhyNot},
    stiffness::{Directed, Reading, decimal_unm, like_nnm},
};
use ellwand_storage::Tx;

/// Reads what a need says of stiffness; `stiff_like` is a lot and a grain.
pub(super) fn wanted(input: &NeedInput, kind: Kind) -> Done<Option<Stiffness>> {
    if input.fusible.is_some() && kind != Kind::Interlining {
        return Err(invalid(
            "fusible",
            format!("{kind} is neither fusible nor sewn in: interlining is"),
        ));
    }
    let min = rigidity("stiffness_min", &input.stiffness_min)?;
    let max = rigidity("stiffness_max", &input.stiffness_max)?;
    let like = input.stiff_like.as_deref().map(like).transpose()?;
    in_order("stiffness_max", min.as_ref(), max.as_ref())?;
    let wanted = match (like, min, max) {
        (None, None, None) => return Ok(None),
        (None, min, max) => Stiffness::Range { min, max },
        (Some((lot, grain)), None, None) => Stiffness::Like { lot, grain },
        (Some(_), _, _) => {
            return Err(invalid(
                "stiff_like",
                "the need has a range of its own; give one of them",
            ));
        }
    };
    let said = input.grain.is_some()
        || (!input.parts.is_empty() && input.parts.iter().all(|part| part.grain.is_some()));
    if !said {
        let detail = "stiffness along the part is asked for, but not which grain runs along it";
        return Err(Problem::from(invalid("grain", detail))
            .hint("give grain=lengthwise, crosswise or bias in the need")
            .into());
    }
    Ok(Some(wanted))
}

fn rigidity(field: &str, text: &Option<String>) -> Done<Option<AsTyped<i64>>> {
    match typed(field, text)? {
        None => Ok(None),
        Some(AsTyped {
            value: Reading::Rigidity(value),
            text,
        }) => Ok(Some(AsTyped { value, text })),
        Some(AsTyped { text, .. }) => Err(invalid(
            field,
            format!("\"{text}\" is a length; give a rigidity, for example 11.4uNm"),
        )),
    }
}

/// `L7 crosswise`: a lot and the grain of it.
fn like(text: &str) -> Done<(LotCode, Grain)> {
    let example = || {
        invalid(
            "stiff_like",
            format!("\"{text}\" is no lot and grain, for example L7 crosswise"),
        )
    };
    let mut words = text.split_whitespace();
    let (Some(lot), Some(grain), None) = (words.next(), words.next(), words.next()) else {
        return Err(example());
    };
    Ok((
        lot.parse().map_err(|_| example())?,
        grain.parse().map_err(|_| example())?,
    ))
}

/// Refuses a lot that is not there, and spells it as the book does.
pub(super) fn resolve(tx: &mut Tx<'_>, input: &mut NeedInput, kind: Kind) -> Done<()> {
    let Some(Stiffness::Like { lot, grain }) = wanted(input, kind)? else {
        return Ok(());
    };
    let record = LotRecord::load(tx, lot.get())
        .map_err(|failure| super::resolve::field("stiff_like", failure))?;
    if Known::of(&record.sheet).along(grain).is_none() {
        return Err(Problem::from(invalid(
            "stiff_like",
            format!("the stiffness of {lot} {} is unknown", on(grain)),
        ))
        .hint(format!(
            "test strips of it with ellwand lot stiffness {lot}"
        ))
        .into());
    }
    input.stiff_like = Some(format!("{lot} {grain}"));
    Ok(())
}

impl NeedRecord {
    /// Conditions of stiffness and fixing for people.
    pub(super) fn stiff_conditions(&self) -> Vec<String> {
        let mut conditions = Vec::new();
        match &self.plan.cloth().stiffness {
            Some(Stiffness::Range { min, max }) => {
                let least = min.as_ref().map(|least| &least.text);
                let most = max.as_ref().map(|most| &most.text);
                conditions.extend(least.map(|least| format!("{least} or more along the part")));
                conditions.extend(most.map(|most| format!("{most} or less along the part")));
            }
            Some(Stiffness::Like { lot, grain }) => {
                conditions.push(format!("as stiff along the part as {lot} {grain}"));
            }
            None => {}
        }
        conditions.extend(self.plan.cloth().fusible().map(|fusible| match fusible {
            true => "only fusible".to_owned(),
            false => "only sewn-in".to_owned(),
        }));
        conditions
    }

    /// The first of these conditions that a lot does not meet.
    pub(crate) fn stiffness_not_met(
        &self,
        tx: &mut Tx<'_>,
        record: &LotRecord,
    ) -> Done<Option<Reason>> {
        if let Some(fusible) = self.plan.cloth().fusible() {
            let (is, asked) = if fusible {
                ("sewn in", "fusible")
            } else {
                ("fusible", "sewn in")
            };
            match record.sheet.fusible {
                None => {
                    let text = format!(
                        "whether it is fusible is unknown, the need asks for what is {asked}"
                    );
                    let lot = record.code();
                    let hint = format!("enter it: ellwand lot edit {lot} --fusible yes, or no");
                    return Ok(Some(Reason::unknown(text, &hint)));
                }
                Some(has) if has != fusible => {
                    let text = format!("it is {is}, the need asks for what is {asked}");
                    return Ok(Some(Reason::other(WhyNot::Stiffness, text)));
                }
                Some(_) => {}
            }
        }
        let Some(wanted) = &self.plan.cloth().stiffness else {
            return Ok(None);
        };
        for along in self.grains() {
            let Some(grain) = along.grain else { continue };
            if let Some(mut reason) = along_not_met(tx, record, wanted, grain)? {
                reason.text.insert_str(0, &along.of);
                return Ok(Some(reason));
            }
        }
        Ok(None)
    }

    /// Where a computed bias decides: that its band reaches beyond what the need asks for, so that a strip should be
    /// measured.
    pub(crate) fn band_notes(&self, tx: &mut Tx<'_>, record: &LotRecord) -> Done<Vec<String>> {
        let Some(wanted) = &self.plan.cloth().stiffness else {
            return Ok(Vec::new());
        };
        let mut notes = Vec::new();
        for along in self.grains() {
            let Some(grain) = along.grain else { continue };
            let Some((low, high)) = Known::of(&record.sheet)
                .along(grain)
                .and_then(|along| along.band_nnm)
            else {
                continue;
            };
            let Ok((min, max, _)) = range(tx, wanted)? else {
                continue;
            };
            if min.is_some_and(|min| low < min) || max.is_some_and(|max| high > max) {
                notes.push(format!(
                    "{}the band of the computed bias, {} to {} µN·m, reaches beyond what the need asks for: measure a bias \
                     strip before you rely on it",
                    along.of,
                    decimal_unm(low),
                    decimal_unm(high)
                ));
            }
        }
        Ok(notes)
    }
}

/// Least and most rigidity, and what a lot that it should be like is said to be.
type Range = (Option<i64>, Option<i64>, String);

/// The range asked for, or why it is not known now.
fn range(tx: &mut Tx<'_>, wanted: &Stiffness) -> Done<Result<Range, Reason>> {
    let (lot, of) = match wanted {
        Stiffness::Range { min, max } => {
            let value = |end: &Option<AsTyped<i64>>| end.as_ref().map(|end| end.value);
            return Ok(Ok((value(min), value(max), String::new())));
        }
        Stiffness::Like { lot, grain } => (lot, *grain),
    };
    let other = LotRecord::load(tx, lot.get())?;
    let Some(like) = Known::of(&other.sheet).along(of) else {
        let text = format!("the stiffness of {lot} {of}, which it should be like, is unknown now");
        return Ok(Err(Reason::unknown(
            text,
            "test strips of that lot, or change the need",
        )));
    };
    let (min, max) = like_nnm(like.rigidity_nnm);
    let source = format!(", {lot} {of} is {}", decimal_unm(like.rigidity_nnm));
    Ok(Ok((Some(min), Some(max), source)))
}

fn along_not_met(
    tx: &mut Tx<'_>,
    record: &LotRecord,
    wanted: &Stiffness,
    grain: Grain,
) -> Done<Option<Reason>> {
    let Some(along) = Known::of(&record.sheet).along(grain) else {
        let text = format!(
            "its stiffness {} is unknown, the need asks for one along the part",
            on(grain)
        );
        let hint = format!(
            "test strips of it with ellwand lot stiffness {}",
            record.code()
        );
        return Ok(Some(Reason::unknown(text, &hint)));
    };
    Ok(match range(tx, wanted)? {
        Ok((min, max, asked)) => out_of_range(along, grain, min, max, &asked),
        Err(reason) => Some(reason),
    })
}

fn out_of_range(
    along: Directed,
    grain: Grain,
    min: Option<i64>,
    max: Option<i64>,
    asked: &str,
) -> Option<Reason> {
    let computed = if along.band_nnm.is_some() {
        " (computed)"
    } else {
        ""
    };
    let is = format!(
        "{} µN·m {}{computed}, the need asks for at",
        decimal_unm(along.rigidity_nnm),
        on(grain)
    );
    if let Some(min) = min.filter(|min| along.rigidity_nnm < *min) {
        let text = format!("{is} least {}{asked}", decimal_unm(min));
        return Some(Reason::new(
            WhyNot::Stiffness,
            text,
            "choose a stiffer one, or turn the part if another grain is stiffer",
        ));
    }
    if let Some(max) = max.filter(|max| along.rigidity_nnm > *max) {
        let text = format!("{is} most {}{asked}", decimal_unm(max));
        return Some(Reason::new(
            WhyNot::Stiffness,
            text,
            "choose a softer one, or turn the part if another grain is softer",
        ));
    }
    None
}
