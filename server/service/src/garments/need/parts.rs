//! Parts of a need, by the measures of their shell parts.

use super::{
    NeedRecord,
    build::{first_given, one_length, typed},
};
use crate::desk::failure::{Done, Failure, invalid};
use ellwand_contract::{
    Metres, Problem,
    garments::{NeedInput, NeedPart, PartInput},
};
use ellwand_domain::{
    need::{ClothDemand, Part, PartError, Parts, PartsError, ShellMeasures, TypedPart},
    quantity::{AsTyped, Count, Micrometres, Units, decimal_m2, show_area},
    setting::{Grain, Kind, LengthBy, Measured, PartCut},
};

/// Spells the names of parts as the book does, and what is left out as it is meant.
pub(super) fn resolve(input: &mut NeedInput, kind: Kind) {
    for part in &mut input.parts {
        part.name = part.name.split_whitespace().collect::<Vec<_>>().join(" ");
        part.grain = part.grain.or(input.grain);
        part.measures.get_or_insert(Measured::With);
        part.cut.get_or_insert(match kind {
            Kind::Interlining => PartCut::Inside,
            Kind::Cloth | Kind::Lining | Kind::Thread | Kind::Trim => PartCut::With,
        });
    }
}

/// Reads the parts of a need.
pub(super) fn read(input: &NeedInput) -> Done<Vec<TypedPart>> {
    let beside = [
        ("widths", !input.widths.is_empty()),
        ("longest_part", input.longest_part.is_some()),
    ];
    if let Some(name) = first_given(&beside) {
        let what = name.replace('_', " ");
        let detail = format!(
            "the need {} has parts; {what} cannot stand beside them",
            input.role
        );
        return Err(Problem::from(invalid(name, detail))
            .hint("leave it out: a lay of your own is given by length= and width=")
            .into());
    }
    let parts = input.parts.iter().enumerate();
    parts
        .map(|(index, part)| one(part).map_err(|failure| in_part(index, failure)))
        .collect()
}

/// Why a list of parts was refused.
pub(super) fn refused(error: PartsError) -> Failure {
    match error {
        PartsError::Quantity(error) => error.into(),
        PartsError::OwnTooShort { .. } => invalid("length", error.to_string()),
        PartsError::HowMany(_) | PartsError::SameName(_) => invalid("part", error.to_string()),
    }
}

fn one(part: &PartInput) -> Done<TypedPart> {
    let name = part.name.trim();
    if name.is_empty() {
        return Err(invalid("name", "a part has a name, for example collar"));
    }
    let Some(grain) = part.grain else {
        return Err(
            Problem::from(invalid("grain", format!("the part {name} has no grain")))
                .hint("give grain=lengthwise, crosswise or bias, for the part or for the need")
                .into(),
        );
    };
    let count = Count::new(part.count).map_err(|error| invalid("count", error.to_string()))?;
    if count == Count::ZERO {
        return Err(invalid(
            "count",
            format!("no {name} is none; leave the part out"),
        ));
    }
    let (length, width) = (
        one_length("length", &part.length)?,
        one_length("width", &part.width)?,
    );
    let allowance: Option<AsTyped<Micrometres>> = typed("allowance", &part.allowance)?;
    let shell = ShellMeasures {
        length: length.value,
        width: width.value,
        measured: part.measures.unwrap_or(Measured::With),
        allowance: allowance.as_ref().map(|typed| typed.value),
    };
    let cut = part.cut.unwrap_or(PartCut::With);
    Ok(TypedPart {
        part: Part::new(name, count.get(), shell, cut, grain).map_err(part_refused)?,
        length: length.text,
        width: width.text,
        allowance: allowance.map(|typed| typed.text),
    })
}

fn part_refused(error: PartError) -> Failure {
    let detail = error.to_string();
    let hint = match error {
        PartError::AllowanceUnknown {
            cut: PartCut::Inside,
            ..
        } => {
            "give allowance=1cm; or cut=with, to cut it as large as the shell part; or measures=without"
        }
        PartError::AllowanceUnknown { .. } => {
            "give allowance=1cm; or measures=with, when the measures hold it already"
        }
        PartError::NothingLeft { .. } => {
            "check the measures and the allowance, or cut it with the allowance: cut=with"
        }
        PartError::Quantity(error) => return error.into(),
    };
    Problem::from(invalid("allowance", detail))
        .hint(hint)
        .into()
}

/// `3 parts, 0.21 m²: 0.44 m washed at 90 cm`: what one garment needs in parts.
pub(super) fn amount(one: &ClothDemand, parts: &Parts, state: &str, units: Units) -> String {
    let pieces = match parts.pieces() {
        1 => "1 part".to_owned(),
        pieces => format!("{pieces} parts"),
    };
    let by = match one.shown_by() {
        Ok(Some(LengthBy::Kept)) => one
            .shown_kept()
            .map_or_else(String::new, |lay| format!(" by {lay}")),
        Ok(Some(LengthBy::OwnLay)) => " by your own lay".to_owned(),
        Ok(Some(LengthBy::Lay)) => " by a lay".to_owned(),
        _ => String::new(),
    };
    let length = one.shown().ok().flatten();
    let length = length.map(|one| {
        let length = one.length.show_taken(units);
        let width = one
            .width
            .map_or_else(|| "any width".to_owned(), |width| width.show_width(units));
        format!(": {length}{state} at {width}{by}")
    });
    let area = show_area(parts.area_um2(), units);
    format!("{pieces}, {area}{}", length.unwrap_or_default())
}

/// Names the part of a refusal.
fn in_part(index: usize, failure: Failure) -> Failure {
    match failure {
        Failure::Refused(mut problem) => {
            let field = problem
                .field
                .map_or_else(String::new, |field| format!(".{field}"));
            problem.field = Some(format!("part[{index}]{field}"));
            Failure::Refused(problem)
        }
        stopped @ Failure::Storage(_) => stopped,
    }
}

/// A grain that runs along parts of a need.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Along {
    /// Which; nothing where it is not said.
    pub(crate) grain: Option<Grain>,
    /// `collar, stand: `, where parts of other grains are in the need too; else nothing.
    pub(crate) of: String,
}

impl NeedRecord {
    /// The parts of one garment.
    pub(super) fn parts(&self) -> Option<Parts> {
        self.plan.demand(1).ok()??.parts().cloned()
    }

    /// The grains that run along its parts, in their order, or the one that its need names.
    pub(crate) fn grains(&self) -> Vec<Along> {
        let Some(parts) = self.demand.as_ref().and_then(|demand| demand.parts()) else {
            return vec![Along {
                grain: self.plan.cloth().grain,
                of: String::new(),
            }];
        };
        let mut grains: Vec<(Grain, Vec<&str>)> = Vec::new();
        for part in parts.list() {
            match grains.iter_mut().find(|(grain, _)| *grain == part.grain()) {
                Some((_, names)) => names.push(part.name()),
                None => grains.push((part.grain(), vec![part.name()])),
            }
        }
        let several = grains.len() > 1;
        let along = |(grain, names): (Grain, Vec<&str>)| Along {
            grain: Some(grain),
            of: if several {
                format!("{}: ", names.join(", "))
            } else {
                String::new()
            },
        };
        grains.into_iter().map(along).collect()
    }

    /// The one grain that runs along all of it; nothing where that is not said, or its parts differ.
    pub(crate) fn only_grain(&self) -> Option<Grain> {
        match self.grains().as_slice() {
            [Along { grain, .. }] => *grain,
            _ => None,
        }
    }

    /// Its parts as they are cut, for people.
    pub(super) fn part_conditions(&self, units: Units) -> Vec<String> {
        self.parts().map_or_else(Vec::new, |parts| {
            parts.list().iter().map(|part| part.text(units)).collect()
        })
    }

    /// Its parts as they travel.
    pub(crate) fn part_views(&self) -> Vec<NeedPart> {
        let view = |part: &Part| NeedPart {
            name: part.name().to_owned(),
            count: part.count(),
            length_m: Metres(part.length()),
            width_m: Metres(part.width()),
            cut: part.cut(),
            grain: part.grain(),
        };
        self.parts()
            .map_or_else(Vec::new, |parts| parts.list().iter().map(view).collect())
    }

    /// Area of one garment's parts in square metres.
    pub(crate) fn area_m2(&self) -> Option<String> {
        self.parts().map(|parts| decimal_m2(parts.area_um2()))
    }
}
