//! The page in a browser with a roof of one's own in it.

/// Where the page has the roof that it opens with.
const EMPTY: &str = "<script type=\"application/json\" id=\"roof\">null</script>";

/// The page with the text of a roof file in it, as data: no name in it can end the data or run. `None` if the page has no
/// place for one.
#[must_use]
pub fn with_roof(page: &str, roof: &str) -> Option<String> {
    let (before, after) = page.split_once(EMPTY)?;
    // a text can always be written as JSON
    let json = serde_json::to_string(roof).unwrap_or_default();
    let mut data = String::with_capacity(json.len());
    for letter in json.chars() {
        match letter {
            '<' | '>' | '&' | '\u{2028}' | '\u{2029}' => {
                data.push_str(&format!("\\u{:04x}", u32::from(letter)));
            }
            letter => data.push(letter),
        }
    }
    let (open, close) = EMPTY.split_once("null")?;
    Some(format!("{before}{open}{data}{close}{after}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_roof_goes_in_as_data_whatever_its_name_is() {
        let page = format!("<p>a</p>{EMPTY}<p>b</p>");
        let roof = "[job]\nname = \"</script><script>alert(1)</script><!-- & \u{2028}\"\n";
        let filled = with_roof(&page, roof).unwrap();
        assert_eq!(filled.matches("<script").count(), 1);
        assert_eq!(filled.matches("</script").count(), 1);
        let data = filled.split("id=\"roof\">").nth(1).unwrap().split("</script>").next().unwrap();
        assert!(!data.contains(['<', '&', '\u{2028}']));
        assert_eq!(serde_json::from_str::<String>(data).unwrap(), roof);
        assert!(filled.starts_with("<p>a</p>") && filled.ends_with("<p>b</p>"));
        assert_eq!(with_roof("<p>a</p>", roof), None);
    }
}
