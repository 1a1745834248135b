//! A need as it would be asked for: for answers that name a need to ask for, and to ask for it again.

use super::NeedRecord;
use ellwand_contract::{
    Typed,
    garments::{NeedInput, PartInput, WidthInput},
};
use ellwand_domain::{
    code::GarmentCode,
    need::{ClothConditions, ClothLengths, Stiffness, Takes, TrimConditions, TypedPart},
    quantity::{AsTyped, Count, Micrometres},
};
use ellwand_storage::Need;

impl NeedRecord {
    /// The need as it would be asked for.
    pub(crate) fn to_input(&self) -> NeedInput {
        let Need {
            role,
            kind,
            detail,
            same_lot_as,
            ..
        } = &self.row;
        let conditions = self.plan.conditions.clone();
        let mut input = NeedInput {
            role: role.clone(),
            kind: Some(kind.0),
            material: conditions.material.map(|code| code.to_string()),
            lot: conditions.lot,
            same_lot_as: same_lot_as.map(GarmentCode::new),
            fibre: conditions.fibre,
            mixing: conditions.mixing,
            estimate: self.plan.estimate.clone(),
            detail: detail.clone(),
            ..NeedInput::default()
        };
        match self.plan.takes.clone() {
            Takes::Cloth {
                lengths,
                longest_part,
                cloth,
            } => {
                match lengths {
                    ClothLengths::One { length, width } => {
                        (input.length, input.width) = (Some(length.text), text(width));
                    }
                    ClothLengths::ByWidth(rows) => {
                        input.widths = rows.into_iter().map(width_input).collect();
                    }
                }
                input.longest_part = text(longest_part);
                add_cloth(&mut input, cloth);
            }
            Takes::Parts { parts, cloth } => {
                input.parts = parts.into_iter().map(part_input).collect();
                add_cloth(&mut input, cloth);
            }
            Takes::Thread {
                length,
                seams,
                reels,
            } => (input.length, input.seams, input.reels) = (Some(length.text), seams, reels),
            Takes::Measured { length, trim } => {
                input.length = Some(length.text);
                add_trim(&mut input, trim);
            }
            Takes::Counted {
                count,
                spares,
                matching,
                trim,
            } => {
                (input.count, input.spares) = (Some(count.get()), spares.map(Count::get));
                input.matching = matching;
                add_trim(&mut input, trim);
            }
        }
        input
    }
}

fn add_cloth(input: &mut NeedInput, cloth: ClothConditions) {
    input.fusible = cloth.fusible();
    match cloth.stiffness {
        Some(Stiffness::Range { min, max }) => {
            (input.stiffness_min, input.stiffness_max) = (text(min), text(max));
        }
        Some(Stiffness::Like { lot, grain }) => input.stiff_like = Some(format!("{lot} {grain}")),
        None => {}
    }
    (input.mass_min, input.mass_max) = (text(cloth.mass_min), text(cloth.mass_max));
    (input.preparation, input.grain) = (cloth.preparation, cloth.grain);
    (input.match_repeat, input.one_length) = (cloth.match_repeat, cloth.one_length);
}

fn add_trim(input: &mut NeedInput, trim: TrimConditions) {
    (input.size, input.colour) = (text(trim.size), trim.colour);
}

fn part_input(typed: TypedPart) -> PartInput {
    let part = typed.part;
    PartInput {
        name: part.name().to_owned(),
        count: part.count(),
        length: typed.length,
        width: typed.width,
        measures: Some(part.shell().measured),
        allowance: typed.allowance,
        cut: Some(part.cut()),
        grain: Some(part.grain()),
    }
}

fn width_input((width, length): (AsTyped<Micrometres>, AsTyped<Micrometres>)) -> WidthInput {
    WidthInput {
        width: Typed(width),
        length: Typed(length),
    }
}

fn text<T>(typed: Option<AsTyped<T>>) -> Option<String> {
    typed.map(|typed| typed.text)
}
