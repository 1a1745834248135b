//! A shirt and what its hours cost.

use serde_json::Value;

/// Three operations of a stitcher: an hour at the machine, an hour of cutting, two hours by hand.
pub const SHIRT: &str = "garment plan shirt --operation 'name=seams,kind=machine,planned=1h,person=stitcher' \
     --operation 'name=cut,kind=cutting,planned=1h,person=stitcher' \
     --operation 'name=hem,kind=hand,planned=2h,person=stitcher'";

pub fn labour(sheet: &Value) -> Vec<(String, String, String)> {
    let lines = sheet["lines"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|line| line["group"] == "labour");
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    lines
        .map(|line| {
            (
                text(&line["name"]),
                text(&line["cost"]["planned"]),
                text(&line["cost"]["actual"]),
            )
        })
        .collect()
}
