//! A material that is called like the role of a need.

use super::NeedRecord;
use crate::shelf::shelved::LotRecord;

impl NeedRecord {
    /// True where the need names neither material nor lot and nothing of the material's name is the need's role. Such a piece serves, but
    /// a twill lining is the better lining than a grey wool.
    pub(crate) fn is_unlike_its_role(&self, record: &LotRecord) -> bool {
        let conditions = &self.plan.conditions;
        let named = conditions.material.is_some() || conditions.lot.is_some();
        !named && self.same_lot_as().is_none() && !alike(&self.row.role, &record.material.name)
    }
}

/// True when two names share a word, in any capitals, one or several: `buttons` and `horn button`.
fn alike(role: &str, name: &str) -> bool {
    let name: Vec<String> = words(name).collect();
    words(role).any(|word| name.contains(&word))
}

fn words(text: &str) -> impl Iterator<Item = String> {
    text.split(|c: char| !c.is_alphanumeric())
        .map(str::to_lowercase)
        .map(|word| word.strip_suffix('s').map_or(word.clone(), str::to_owned))
        .filter(|word| !word.is_empty())
}

#[cfg(test)]
mod tests {
    use super::alike;

    #[test]
    fn a_role_and_a_name_are_alike_by_a_whole_word() {
        for (role, name, expected) in [
            ("lining", "twill lining", true),
            ("Lining", "grey wool", false),
            ("buttons", "horn button 18L", true),
            ("lining", "interlining, woven", false),
            ("front interlining", "woven interlining", true),
            ("s", "dress silk", false),
            ("", "", false),
        ] {
            assert_eq!(alike(role, name), expected, "{role}, {name}");
        }
    }
}
