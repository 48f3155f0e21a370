//! A file in the exchange structure of ISO 10303-21 (STEP Part 21), instance by instance.
//!
//! Written here because no library with a license that this program can accept writes building models.

use crate::measure::tolerance::ZERO;
use std::collections::HashMap;
use std::fmt::Write;

/// An instance of the file, named by its number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) struct Id(u32);

/// A value of an instance.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Value {
    /// No value: `$`.
    Unset,
    /// What follows from others: `*`.
    Derived,
    /// Another instance.
    Ref(Id),
    /// A number with a point.
    Real(f64),
    /// A whole number.
    Whole(i64),
    /// Text.
    Text(String),
    /// A word of a list in the schema, without its points.
    Word(&'static str),
    /// `.T.`
    True,
    /// `.F.`
    False,
    /// Several.
    List(Vec<Value>),
    /// A value with its type, where the schema requires a select.
    Typed(&'static str, Box<Value>),
}

impl From<Id> for Value {
    fn from(id: Id) -> Value {
        Value::Ref(id)
    }
}

impl From<f64> for Value {
    fn from(number: f64) -> Value {
        Value::Real(number)
    }
}

impl From<bool> for Value {
    fn from(holds: bool) -> Value {
        if holds { Value::True } else { Value::False }
    }
}

impl From<&str> for Value {
    fn from(text: &str) -> Value {
        Value::Text(text.to_owned())
    }
}

impl From<String> for Value {
    fn from(text: String) -> Value {
        Value::Text(text)
    }
}

impl<T: Into<Value>> From<Vec<T>> for Value {
    fn from(list: Vec<T>) -> Value {
        Value::List(list.into_iter().map(Into::into).collect())
    }
}

impl<T: Into<Value>> From<Option<T>> for Value {
    fn from(value: Option<T>) -> Value {
        value.map_or(Value::Unset, Into::into)
    }
}

/// A file being written.
#[derive(Debug, Default)]
pub(super) struct Step {
    data: String,
    count: u32,
    // equal points and directions are written once
    known: HashMap<String, Id>,
}

impl Step {
    /// Adds an instance.
    pub(super) fn add(&mut self, kind: &str, values: Vec<Value>) -> Id {
        self.count += 1;
        let id = Id(self.count);
        let written = instance(kind, &values);
        // writing to a String can't fail
        let _ = writeln!(self.data, "#{}={written};", id.0);
        id
    }

    /// Adds an instance without an identity, such as a point; an equal one that exists is used again.
    pub(super) fn add_once(&mut self, kind: &str, values: Vec<Value>) -> Id {
        let written = instance(kind, &values);
        if let Some(id) = self.known.get(&written) {
            return *id;
        }
        let id = self.add(kind, values);
        self.known.insert(written, id);
        id
    }

    /// The whole file: `schema` names the data's schema, `view` the part of it that the file keeps to.
    pub(super) fn finish(self, schema: &str, view: &str, name: &str, program: &str) -> String {
        let text = |text: &str| {
            let mut written = String::new();
            write_text(&mut written, text);
            written
        };
        format!(
            "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(({}),'2;1');\nFILE_NAME({},{},(''),(''),{},{},'');\nFILE_SCHEMA(({}));\nENDSEC;\nDATA;\n{}ENDSEC;\nEND-ISO-10303-21;\n",
            text(view),
            text(name),
            // the time of writing is not part of the roof: equal roofs give equal files
            text("2000-01-01T00:00:00"),
            text(program),
            text(program),
            text(schema),
            self.data,
        )
    }
}

fn instance(kind: &str, values: &[Value]) -> String {
    let mut written = format!("{kind}(");
    write_list(&mut written, values);
    written.push(')');
    written
}

fn write_list(written: &mut String, values: &[Value]) {
    for (number, value) in values.iter().enumerate() {
        if number > 0 {
            written.push(',');
        }
        write_value(written, value);
    }
}

fn write_value(written: &mut String, value: &Value) {
    // writing to a String can't fail
    let _ = match value {
        Value::Unset => write!(written, "$"),
        Value::Derived => write!(written, "*"),
        Value::Ref(id) => write!(written, "#{}", id.0),
        Value::Real(number) => write!(written, "{}", real(*number)),
        Value::Whole(number) => write!(written, "{number}"),
        Value::Word(word) => write!(written, ".{word}."),
        Value::True => write!(written, ".T."),
        Value::False => write!(written, ".F."),
        Value::Text(text) => {
            write_text(written, text);
            Ok(())
        }
        Value::List(values) => {
            written.push('(');
            write_list(written, values);
            written.push(')');
            Ok(())
        }
        Value::Typed(kind, value) => {
            let _ = write!(written, "{kind}(");
            write_value(written, value);
            written.push(')');
            Ok(())
        }
    };
}

/// A number with a point, to the last significant digit, and zero without a sign.
fn real(number: f64) -> String {
    let clean = if number.abs() < ZERO { 0.0 } else { number };
    let text = format!("{clean:?}").to_uppercase();
    // 1E-5 lacks the point that the exchange structure requires
    match text.split_once('E') {
        Some((digits, power)) if !digits.contains('.') => format!("{digits}.E{power}"),
        Some(_) => text,
        None => text.trim_end_matches('0').to_owned(),
    }
}

/// Text in quotes; letters beyond ASCII as their numbers (ISO 10303-21, 6.4.3).
fn write_text(written: &mut String, text: &str) {
    written.push('\'');
    for letter in text.chars() {
        match letter {
            '\'' => written.push_str("''"),
            '\\' => written.push_str("\\\\"),
            ' '..='~' => written.push(letter),
            letter if u32::from(letter) <= 0xffff => {
                let _ = write!(written, "\\X2\\{:04X}\\X0\\", u32::from(letter));
            }
            letter => {
                let _ = write!(written, "\\X4\\{:08X}\\X0\\", u32::from(letter));
            }
        }
    }
    written.push('\'');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_a_point() {
        for (number, text) in [
            (0.0, "0."),
            (-0.0, "0."),
            (12.0, "12."),
            (0.5, "0.5"),
            (1e-5, "1.E-5"),
            (1.5e-7, "1.5E-7"),
            (1e20, "1.E20"),
            (-3.25, "-3.25"),
        ] {
            assert_eq!(real(number), text);
            assert_eq!(text.replace(".E", ".0E").parse::<f64>().unwrap(), number);
        }
    }

    #[test]
    fn text_is_ascii() {
        let mut written = String::new();
        write_text(&mut written, "Fox's 5½ \\ 🏠");
        assert_eq!(written, "'Fox''s 5\\X2\\00BD\\X0\\ \\\\ \\X4\\0001F3E0\\X0\\'");
    }

    #[test]
    fn points_serve_again_and_products_do_not() {
        let mut step = Step::default();
        let point = |step: &mut Step, x: f64| step.add_once("P", vec![x.into()]);
        assert_eq!(point(&mut step, 1.0), point(&mut step, 1.0));
        assert_ne!(point(&mut step, 1.0), point(&mut step, 2.0));
        assert_ne!(step.add("M", vec![]), step.add("M", vec![]));
    }
}
