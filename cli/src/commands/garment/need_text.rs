//! A need of trims as `--need` takes it.

use ellwand_contract::garments::NeedInput;

/// `role=buttons,kind=trim,count=6,size=24L`: every key that a need of trims may have.
pub fn of(need: &NeedInput) -> String {
    let mut pairs = vec![pair("role", &need.role)];
    let mut add =
        |key: &str, value: Option<String>| pairs.extend(value.map(|value| pair(key, &value)));
    add("kind", need.kind.map(|kind| kind.to_string()));
    add("count", need.count.map(|count| count.to_string()));
    add("length", need.length.clone());
    add("spares", need.spares.map(|spares| spares.to_string()));
    add("size", need.size.clone());
    add("colour", need.colour.clone());
    add("material", need.material.clone());
    add("lot", need.lot.map(|lot| lot.to_string()));
    add(
        "same-lot-as",
        need.same_lot_as.map(|garment| garment.to_string()),
    );
    add("fibre", need.fibre.clone());
    add("matching", need.matching.then(|| "yes".to_owned()));
    add("mixing", need.mixing.then(|| "yes".to_owned()));
    add("estimate", need.estimate.clone());
    add("detail", need.detail.clone());
    pairs.join(",")
}

/// A value with a comma or a quote in it stands in double quotes.
fn pair(key: &str, value: &str) -> String {
    if value.contains(',') {
        format!("{key}=\"{value}\"")
    } else {
        format!("{key}={value}")
    }
}

#[cfg(test)]
mod tests {
    use super::of;
    use crate::pairs::read;

    #[test]
    fn a_need_is_read_as_it_was_told() {
        for text in [
            "role=buttons,kind=trim,count=6,spares=1,size=24L,colour=brown,matching=yes",
            "role=tape,kind=trim,length=1.20m,material=M3,mixing=yes,estimate=2.00,detail=\"waistband, inside\"",
            "role=zip,kind=trim,count=1,size=55cm,lot=L4",
        ] {
            assert_eq!(of(&read(text).expect(text)), text);
        }
    }
}
