//! How stiff a need wants its interlining along the part's long side.

use super::NeedRecord;
use crate::{
    failure::{Done, invalid},
    fit::Reason,
    shelved::LotRecord,
    stiffness::{Known, on},
};
use ellwand_contract::{Problem, garments::NeedInput};
use ellwand_domain::{
    code::LotCode,
    setting::{Grain, Kind},
    stiffness::{Directed, Reading, decimal_unm, like_nnm},
};
use ellwand_storage::Tx;

/// Rigidities asked for; nanonewton metres.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Wanted {
    min: Option<i64>,
    max: Option<i64>,
    like: Option<(LotCode, Grain)>,
}

impl Wanted {
    const fn is_nothing(self) -> bool {
        self.min.is_none() && self.max.is_none() && self.like.is_none()
    }
}

/// Reads what a need says of stiffness; `stiff_like` is a lot and a grain.
pub(super) fn wanted(input: &NeedInput, kind: Kind) -> Done<Wanted> {
    if input.fusible.is_some() && kind != Kind::Interlining {
        return Err(invalid(
            "fusible",
            format!("{kind} is neither fusible nor sewn in: interlining is"),
        ));
    }
    let wanted = Wanted {
        min: rigidity("stiffness_min", input.stiffness_min.as_deref())?,
        max: rigidity("stiffness_max", input.stiffness_max.as_deref())?,
        like: input.stiff_like.as_deref().map(like).transpose()?,
    };
    if wanted.is_nothing() {
        return Ok(wanted);
    }
    if let (Some(min), Some(max)) = (wanted.min, wanted.max)
        && min > max
    {
        return Err(invalid(
            "stiffness_max",
            "the most is below the least that the need asks for",
        ));
    }
    if wanted.like.is_some() && (wanted.min.is_some() || wanted.max.is_some()) {
        return Err(invalid(
            "stiff_like",
            "the need has a range of its own; give one of them",
        ));
    }
    let said = input.grain.is_some()
        || (!input.parts.is_empty() && input.parts.iter().all(|part| part.grain.is_some()));
    if !said {
        let detail = "stiffness along the part is asked for, but not which grain runs along it";
        return Err(Problem::from(invalid("grain", detail))
            .hint("say grain lengthwise, crosswise or bias in the need: which one is the stiff one is never assumed")
            .into());
    }
    Ok(wanted)
}

fn rigidity(field: &str, text: Option<&str>) -> Done<Option<i64>> {
    let Some(text) = text else { return Ok(None) };
    match text
        .parse()
        .map_err(|error: ellwand_domain::quantity::QuantityError| {
            invalid(field, error.to_string())
        })? {
        Reading::Rigidity(nnm) => Ok(Some(nnm)),
        Reading::BendingLength(_) => Err(invalid(
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
    let wanted = wanted(input, kind)?;
    let Some((lot, grain)) = wanted.like else {
        return Ok(());
    };
    let record = LotRecord::load(tx, lot.get())
        .map_err(|failure| super::check::field("stiff_like", failure))?;
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
        let input = &self.input;
        let mut conditions = Vec::new();
        conditions.extend(
            input
                .stiffness_min
                .as_ref()
                .map(|least| format!("{least} or more along the part")),
        );
        conditions.extend(
            input
                .stiffness_max
                .as_ref()
                .map(|most| format!("{most} or less along the part")),
        );
        conditions.extend(
            input
                .stiff_like
                .as_ref()
                .map(|like| format!("as stiff along the part as {like}")),
        );
        conditions.extend(input.fusible.map(|fusible| {
            if fusible {
                "only fusible"
            } else {
                "only sewn-in"
            }
            .to_owned()
        }));
        conditions
    }

    /// The first of these conditions that a lot does not meet.
    pub(crate) fn stiffness_not_met(
        &self,
        tx: &mut Tx<'_>,
        record: &LotRecord,
    ) -> Done<Option<Reason>> {
        if let Some(fusible) = self.input.fusible {
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
                    return Ok(Some(Reason::unknown(
                        text,
                        "enter it with ellwand lot edit --fusible",
                    )));
                }
                Some(has) if has != fusible => {
                    let text = format!("it is {is}, the need asks for what is {asked}");
                    return Ok(Some(Reason::new(
                        text,
                        "choose another piece, or change the need",
                    )));
                }
                Some(_) => {}
            }
        }
        let wanted = wanted(&self.input, self.row.kind)?;
        if wanted.is_nothing() {
            return Ok(None);
        }
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
        let wanted = wanted(&self.input, self.row.kind)?;
        let mut notes = Vec::new();
        for along in self.grains() {
            let Some(grain) = along.grain else { continue };
            let Some((low, high)) = Known::of(&record.sheet)
                .along(grain)
                .and_then(|along| along.band_nnm)
            else {
                continue;
            };
            let Ok((min, max, _)) = wanted.range(tx)? else {
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

impl Wanted {
    /// The range asked for, or why it is not known now.
    fn range(self, tx: &mut Tx<'_>) -> Done<Result<Range, Reason>> {
        let Some((lot, of)) = self.like else {
            return Ok(Ok((self.min, self.max, String::new())));
        };
        let other = LotRecord::load(tx, lot.get())?;
        let Some(like) = Known::of(&other.sheet).along(of) else {
            let text =
                format!("the stiffness of {lot} {of}, which it should be like, is unknown now");
            return Ok(Err(Reason::unknown(
                text,
                "test strips of that lot, or change the need",
            )));
        };
        let (min, max) = like_nnm(like.rigidity_nnm);
        let told = format!(", {lot} {of} is {}", decimal_unm(like.rigidity_nnm));
        Ok(Ok((Some(min), Some(max), told)))
    }
}

fn along_not_met(
    tx: &mut Tx<'_>,
    record: &LotRecord,
    wanted: Wanted,
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
    Ok(match wanted.range(tx)? {
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
            text,
            "choose a stiffer one, or turn the part if another grain is stiffer",
        ));
    }
    if let Some(max) = max.filter(|max| along.rigidity_nnm > *max) {
        let text = format!("{is} most {}{asked}", decimal_unm(max));
        return Some(Reason::new(
            text,
            "choose a softer one, or turn the part if another grain is softer",
        ));
    }
    None
}
