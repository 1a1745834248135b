//! A need as it would be asked for: for answers that name a need to ask for, and to ask for it again.

use super::NeedRecord;
use ellwand_contract::{
    Typed,
    garments::{NeedInput, PartInput, WidthInput},
};
use ellwand_domain::{
    code::MaterialCode,
    need::{ClothLengths, Stiffness, Takes, TypedPart},
    quantity::AsTyped,
};

impl NeedRecord {
    /// The need as it would be asked for.
    pub(crate) fn to_input(&self) -> NeedInput {
        let (row, plan) = (&self.row, &self.plan);
        let (asked, cloth, trim) = (&plan.conditions, plan.cloth(), plan.trim());
        let (count, spares) = plan.count();
        let (mut stiffness, mut stiff_like) = ((None, None), None);
        match &cloth.stiffness {
            Some(Stiffness::Range { min, max }) => stiffness = (text(min), text(max)),
            Some(Stiffness::Like { lot, grain }) => stiff_like = Some(format!("{lot} {grain}")),
            None => {}
        }
        let mut input = NeedInput {
            role: row.role.clone(),
            kind: Some(row.kind),
            seams: plan.seams(),
            count,
            preparation: cloth.preparation,
            material: asked.material.as_ref().map(MaterialCode::to_string),
            lot: asked.lot,
            same_lot_as: self.same_lot_as(),
            fibre: asked.fibre.clone(),
            mass_min: text(&cloth.mass_min),
            mass_max: text(&cloth.mass_max),
            mixing: asked.mixing,
            reels: plan.reels(),
            one_length: cloth.one_length,
            grain: cloth.grain,
            stiffness_min: stiffness.0,
            stiffness_max: stiffness.1,
            stiff_like,
            fusible: cloth.fusible(),
            size: text(&trim.size),
            colour: plan.colour().map(str::to_owned),
            matching: plan.matching(),
            spares,
            match_repeat: cloth.match_repeat,
            estimate: plan.estimate.clone(),
            detail: row.detail.clone(),
            ..NeedInput::default()
        };
        match &plan.takes {
            Takes::Cloth {
                lengths,
                longest_part,
                ..
            } => {
                add_lengths(&mut input, lengths);
                input.longest_part = text(longest_part);
            }
            Takes::Parts { parts, own, .. } => {
                input.parts = parts.iter().map(part_input).collect();
                if let Some((length, width)) = own {
                    (input.length, input.width) = (Some(length.text.clone()), text(width));
                }
            }
            Takes::Thread { length, .. } | Takes::Measured { length, .. } => {
                input.length = Some(length.text.clone());
            }
            Takes::Counted { .. } => {}
        }
        input
    }
}

fn add_lengths(input: &mut NeedInput, lengths: &ClothLengths) {
    match lengths {
        ClothLengths::One { length, width } => {
            (input.length, input.width) = (Some(length.text.clone()), text(width));
        }
        ClothLengths::ByWidth(rows) => {
            let rows = rows.iter().cloned().map(|(width, length)| WidthInput {
                width: Typed(width),
                length: Typed(length),
            });
            input.widths = rows.collect();
        }
    }
}

fn part_input(typed: &TypedPart) -> PartInput {
    let part = &typed.part;
    PartInput {
        name: part.name().to_owned(),
        count: part.count(),
        length: typed.length.clone(),
        width: typed.width.clone(),
        measures: Some(part.shell().measured),
        allowance: typed.allowance.clone(),
        cut: Some(part.cut()),
        grain: Some(part.grain()),
    }
}

fn text<T>(typed: &Option<AsTyped<T>>) -> Option<String> {
    typed.as_ref().map(|typed| typed.text.clone())
}
