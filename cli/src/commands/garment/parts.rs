//! Reads `--part`: parts of a need, by the measures of their shell parts.

use super::needs::checked;
use crate::{
    command_error::CommandError,
    pairs::{Pairs, PairsError},
};
use ellwand_contract::garments::{NeedInput, PartInput};
use ellwand_domain::quantity::{Count, Micrometres};

/// Keys of `--part`, in the order of the help.
pub const PART_KEYS: &[&str] = &[
    "need",
    "name",
    "count",
    "length",
    "width",
    "measures",
    "allowance",
    "cut",
    "grain",
];

/// A part, and the role of its need.
#[derive(Debug, Clone)]
pub struct PartOf {
    need: String,
    part: PartInput,
}

/// Reads `need=collar canvas,name=collar,length=46cm,width=12cm,allowance=1cm,grain=bias`.
///
/// # Errors
/// An unknown key, a value that cannot be read, no need, name, length or width.
pub fn part(text: &str) -> Result<PartOf, PairsError> {
    part_of(Pairs::parse(text, PART_KEYS)?)
}

/// A part from pairs that are read already.
///
/// # Errors
/// As [`part`].
pub fn part_of(mut pairs: Pairs) -> Result<PartOf, PairsError> {
    let text = pairs.text().to_owned();
    let mut side = |key: &str, example: &str| -> Result<String, PairsError> {
        checked::<Micrometres>(&mut pairs, key)?.ok_or_else(|| {
            PairsError::new(format!(
                "\"{text}\" has no {key}, for example {key}={example}"
            ))
        })
    };
    let (length, width) = (side("length", "46cm")?, side("width", "12cm")?);
    Ok(PartOf {
        need: pairs.need("need", "collar canvas")?,
        part: PartInput {
            name: pairs.need("name", "collar")?,
            count: pairs.take_as::<Count>("count")?.map_or(1, Count::get),
            length,
            width,
            measures: pairs.take_as("measures")?,
            allowance: checked::<Micrometres>(&mut pairs, "allowance")?,
            cut: pairs.take_as("cut")?,
            grain: pairs.take_as("grain")?,
        },
    })
}

/// Puts parts into the needs of their roles, whatever the capitals.
///
/// # Errors
/// Exit 2: a part of a need that is not said.
pub fn join(
    needs: &mut [NeedInput],
    parts: Vec<PartOf>,
    flags: (&str, &str),
) -> Result<(), CommandError> {
    let spelled = |text: &str| {
        text.split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
            .to_lowercase()
    };
    let (flag, need_flag) = flags;
    for PartOf { need: role, part } in parts {
        let found = needs
            .iter_mut()
            .find(|need| spelled(&need.role) == spelled(&role));
        let need = found.ok_or_else(|| {
            let role = role.trim();
            CommandError::usage_hint(
                format!(
                    "{flag} {} is of the need {role}, but no {need_flag} says it",
                    part.name
                ),
                format!(
                    "say {need_flag} 'role={role},kind=interlining,…', too; a need is said whole"
                ),
            )
        })?;
        need.parts.push(part);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_domain::setting::{Grain, Measured, PartCut};

    fn read(text: &str) -> Result<PartOf, String> {
        part(text).map_err(|error| error.to_string())
    }

    #[test]
    fn a_part_is_read_and_put_into_its_need() {
        let collar =
            read("need=Collar  canvas,name=collar,length=18 1/8 in,width=12cm,allowance=1cm,count=2,cut=with,grain=bias,measures=without")
                .expect("a part");
        let plain = read("need=collar canvas,name=stand,length=44cm,width=5cm").expect("a part");
        let mut needs = vec![NeedInput {
            role: "collar canvas".to_owned(),
            ..NeedInput::default()
        }];
        join(&mut needs, vec![collar, plain], ("--part", "--need")).expect("joined");
        let [collar, stand] = needs[0].parts.as_slice() else {
            panic!("two parts")
        };
        assert_eq!((collar.length.as_str(), collar.count), ("18 1/8 in", 2));
        assert_eq!(
            (collar.cut, collar.measures),
            (Some(PartCut::With), Some(Measured::Without))
        );
        assert_eq!(
            (collar.grain, stand.grain, stand.count),
            (Some(Grain::Bias), None, 1)
        );
    }

    #[test]
    fn a_part_that_cannot_be_read_names_the_key() {
        let fault = |text| read(text).expect_err("a faulty part");
        assert!(
            fault("need=a,name=b,width=5cm").ends_with("has no length, for example length=46cm")
        );
        assert!(
            fault("name=b,length=4cm,width=5cm")
                .ends_with("has no need, for example need=collar canvas")
        );
        assert!(
            fault("need=a,name=b,length=44,width=5cm").starts_with("length: \"44\" needs a unit")
        );
        assert!(
            fault("need=a,name=b,length=4cm,width=5cm,cut=half")
                .starts_with("cut: \"half\" is not a way to cut")
        );
        assert!(
            fault("need=a,name=b,length=4cm,width=5cm,colour=red")
                .starts_with("\"colour\" is not a key here")
        );
    }

    #[test]
    fn a_part_of_a_need_that_is_not_said_is_refused() {
        let stand = read("need=collar,name=stand,length=44cm,width=5cm").expect("a part");
        let error = join(&mut [], vec![stand], ("--part", "--need")).expect_err("no need");
        assert_eq!(
            error.message(),
            "--part stand is of the need collar, but no --need says it"
        );
    }
}
