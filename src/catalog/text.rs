//! Reading the embedded tables: comment lines, a header line, quoted fields.

/// The rows of an embedded table, without comment lines and the header line.
///
/// Fields borrow from the embedded text, so a row costs one small vector. A quoted field may contain
/// commas. The embedded files have no doubled quotes and no quoted line ends (a test of each table
/// checks that every row has all its fields).
pub(super) fn rows(table: &'static str) -> impl Iterator<Item = Vec<&'static str>> {
    table.lines().filter(|line| !line.starts_with('#') && !line.is_empty()).skip(1).map(fields)
}

fn fields(line: &'static str) -> Vec<&'static str> {
    let mut out = Vec::with_capacity(20);
    let mut rest = line;
    loop {
        let (field, tail) = match rest.strip_prefix('"').and_then(|r| r.split_once('"')) {
            Some((field, tail)) => (field, tail.strip_prefix(',')),
            None => match rest.split_once(',') {
                Some((field, tail)) => (field, Some(tail)),
                None => (rest, None),
            },
        };
        out.push(field);
        match tail {
            Some(tail) => rest = tail,
            None => return out,
        }
    }
}

/// A number of an embedded table; the tables' tests read every row once.
#[track_caller]
pub(super) fn number(field: &str) -> f64 {
    field.parse().expect("an embedded table holds a number in every number column")
}

/// A number, or `None` if the field is empty.
pub(super) fn number_if_given(field: &str) -> Option<f64> {
    (!field.is_empty()).then(|| number(field))
}

/// A whole number of an embedded table.
#[track_caller]
pub(super) fn count(field: &str) -> u32 {
    field.parse().expect("an embedded table holds a whole number in every count column")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_header_quotes_and_empty_fields() {
        let table = "# head\na,b,c\n1,,\"x, y\"\n\"2-4\",5,\n";
        let read: Vec<_> = rows(table).collect();
        assert_eq!(read, [vec!["1", "", "x, y"], vec!["2-4", "5", ""]]);
    }
}
