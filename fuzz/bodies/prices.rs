//! Prices files of both forms: what is accepted is written and read back alike, what is refused has its place.

use stepoff::measure::quantity::InInches;
use stepoff::order::Prices;
use stepoff::order::prices::{LumberPrice, Terms, keys, write};

use super::refused;

pub(super) fn words() -> Vec<String> {
    let words = [
        "[[lumber]]\n",
        "[[item]]\n",
        "section = \"2x6\"\n",
        "length = \"12'\"\n",
        "price = 10.80\n",
        "price = ",
        "key = ",
        "unit = ",
        "code = ",
        "on_hand = 3\n",
        "note = \"n\"\n",
        "currency = \"EUR\"\n",
        "tax_percent = 8.25\n",
        "all_lengths = true\n",
        "key,length,price,unit,code,on hand\n",
        "2x4,8',3.50,each,,\n",
        ";",
        "\t",
        ",",
        "\"",
        "12,50",
        "1.234,50",
        "-1",
        "1e9",
        "99999999.999",
    ];
    let mut all = words.map(str::to_owned).to_vec();
    all.extend(keys::all().into_iter().map(|key| key.key));
    all
}

/// A file that begins with a comma is CSV without that comma, any other is TOML.
pub(super) fn body(data: &[u8]) {
    let text = String::from_utf8_lossy(data);
    let (text, read) = match text.strip_prefix(',') {
        Some(csv) => (csv, Prices::read_csv(csv)),
        None => (text.as_ref(), Prices::read(&text)),
    };
    match read {
        Ok(mut prices) => {
            // rows that say nothing are not kept
            prices.lumber.retain(|row| row.terms != Terms::default());
            prices.items.retain(|row| row.terms != Terms::default());
            let kept = write::kept(&prices);
            let mut again = Prices::read(&kept).unwrap_or_else(|why| panic!("{kept}\n{why:?}"));
            // sizes are written to a millionth of an inch, everything else exactly
            let sizes = |prices: &mut Prices| -> Vec<f64> {
                let sides = |row: &mut LumberPrice| {
                    let section = &mut row.section;
                    // within a millionth of a size that is sold it may get that size's name
                    section.nominal = None;
                    [&mut section.thickness, &mut section.depth, &mut row.length]
                        .map(|size| std::mem::take(size).inches())
                };
                prices.lumber.iter_mut().flat_map(sides).collect()
            };
            let (before, after) = (sizes(&mut prices), sizes(&mut again));
            assert_eq!(again, prices, "{text}\nis kept as\n{kept}");
            for (before, after) in before.iter().zip(&after) {
                assert!((before - after).abs() < 1e-5, "{before} is kept as {after}:\n{kept}");
            }
        }
        Err(faults) => {
            assert!(!faults.is_empty());
            faults.iter().for_each(|fault| refused::of_fault(fault, text));
        }
    }
}
