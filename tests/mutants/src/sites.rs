//! Finds the places of a file that can be changed, and how its text is rewritten so that each change can be
//! turned on while the program runs.
//!
//! No part of an expression is written twice: `a + b` becomes
//! `(match (a, b) { (l, r) => if on(17) { l - r } else { l + r } })`, so changes nest without the text growing.
//! Constants, patterns, types, attributes and tests stay as they are. So do the conditions of `assert!`: a change of those is
//! always noticed and would say nothing about the tests.

use std::ops::Range;

use syn::parse::ParseStream;
use syn::punctuated::Punctuated;
use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{Attribute, BinOp, Expr, Lit, Macro, RangeLimits, Stmt, Token, UnOp};

/// One change of the text.
#[derive(Debug, Clone)]
pub(crate) enum Edit {
    /// Text put before what starts here.
    Before(usize, String),
    /// Text put after what ends here.
    After(usize, String),
    /// Text in place of this.
    Instead(Range<usize>, String),
}

/// A place with one or two mutants. In its edits `#0` and `#1` stand for their numbers.
#[derive(Debug, Clone)]
pub(crate) struct Site {
    /// Its bytes in the source.
    pub(crate) range: Range<usize>,
    /// Its line, from 1.
    pub(crate) line: usize,
    /// How the text changes.
    pub(crate) edits: Vec<Edit>,
    /// What each mutant does, in words: `+ to -`.
    pub(crate) changes: Vec<String>,
}

/// Every site of a file.
pub(crate) fn sites(source: &str) -> syn::Result<Vec<Site>> {
    let mut finder = Finder { source, sites: Vec::new() };
    finder.visit_file(&syn::parse_file(source)?);
    Ok(finder.sites)
}

/// Modules of a file that are compiled for tests alone, by name.
pub(crate) fn test_modules(source: &str) -> syn::Result<Vec<String>> {
    let tests = syn::parse_file(source)?.items.into_iter().filter_map(|item| match item {
        syn::Item::Mod(module) if for_tests(&module.attrs) => Some(module.ident.to_string()),
        _ => None,
    });
    Ok(tests.collect())
}

fn for_tests(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        attribute.path().is_ident("test")
            || (attribute.path().is_ident("cfg")
                && attribute.parse_args::<syn::Path>().is_ok_and(|path| path.is_ident("test")))
    })
}

struct Finder<'a> {
    source: &'a str,
    sites: Vec<Site>,
}

fn bytes(part: &impl Spanned) -> Range<usize> {
    part.span().byte_range()
}

/// What a comparison becomes: the other way around, and with the tie on the other side.
fn compared(op: &BinOp) -> Option<(&'static str, &'static str, Option<&'static str>)> {
    Some(match op {
        BinOp::Lt(_) => ("<", ">", Some("<=")),
        BinOp::Le(_) => ("<=", ">=", Some("<")),
        BinOp::Gt(_) => (">", "<", Some(">=")),
        BinOp::Ge(_) => (">=", "<=", Some(">")),
        BinOp::Eq(_) => ("==", "!=", None),
        BinOp::Ne(_) => ("!=", "==", None),
        _ => return None,
    })
}

fn calculated(op: &BinOp) -> Option<(&'static str, &'static str)> {
    Some(match op {
        BinOp::Add(_) => ("+", "-"),
        BinOp::Sub(_) => ("-", "+"),
        BinOp::Mul(_) => ("*", "/"),
        BinOp::Div(_) => ("/", "*"),
        BinOp::Rem(_) => ("%", "/"),
        _ => return None,
    })
}

fn assigned(op: &BinOp) -> Option<(&'static str, &'static str)> {
    Some(match op {
        BinOp::AddAssign(_) => ("+=", "-="),
        BinOp::SubAssign(_) => ("-=", "+="),
        BinOp::MulAssign(_) => ("*=", "/="),
        BinOp::DivAssign(_) => ("/=", "*="),
        _ => return None,
    })
}

/// True if a condition binds a name: `let .. = .. && ..` has to stay a chain.
fn binds(condition: &Expr) -> bool {
    match condition {
        Expr::Let(_) => true,
        Expr::Binary(both) if matches!(both.op, BinOp::And(_)) => {
            binds(&both.left) || binds(&both.right)
        }
        _ => false,
    }
}

/// True if the name of a method says that it answers yes or no.
fn answers_yes_or_no(method: &str) -> bool {
    method.starts_with("is_")
        || ["contains", "contains_key", "starts_with", "ends_with"].contains(&method)
}

impl Finder<'_> {
    fn add(&mut self, whole: &impl Spanned, edits: Vec<Edit>, changes: &[String]) {
        let (range, line) = (bytes(whole), whole.span().start().line);
        self.sites.push(Site { range, line, edits, changes: changes.to_vec() });
    }

    /// A site that puts text around an expression.
    fn around(&mut self, whole: &impl Spanned, before: &str, after: &str, change: &str) {
        let range = bytes(whole);
        let edits =
            vec![Edit::Before(range.start, before.into()), Edit::After(range.end, after.into())];
        self.add(whole, edits, &[change.into()]);
    }

    fn binary(&mut self, whole: &syn::ExprBinary) {
        let range = bytes(whole);
        let op = bytes(&whole.op);
        let three = |before: &str, middle: &str, after: String| {
            vec![
                Edit::Before(range.start, before.into()),
                Edit::Instead(op.clone(), middle.into()),
                Edit::After(range.end, after),
            ]
        };
        if let Some((was, now)) = calculated(&whole.op) {
            let after = format!(
                ") {{ (__l, __r) => if crate::mutant::on(#0) {{ __l {now} __r }} else {{ __l {was} __r }} }})"
            );
            self.add(whole, three("(match (", ", ", after), &[format!("{was} to {now}")]);
        } else if let Some((was, now, edge)) = compared(&whole.op) {
            let mut changes = vec![format!("{was} to {now}")];
            let mut tie = String::new();
            if let Some(edge) = edge {
                changes.push(format!("{was} to {edge}"));
                tie =
                    format!("if crate::mutant::edge(#1, || __l == __r) {{ __l {edge} __r }} else ");
            }
            let after = format!(
                ")) {{ (__l, __r) => if crate::mutant::on(#0) {{ __l {now} __r }} else {tie}{{ __l {was} __r }} }})"
            );
            self.add(whole, three("(match (&(", "), &(", after), &changes);
        } else if let Some((was, now)) = assigned(&whole.op) {
            let place = &self.source[bytes(&whole.left)];
            let after = format!(
                ") {{ __v => if crate::mutant::on(#0) {{ {place} {now} __v }} else {{ {place} {was} __v }} }})"
            );
            let edits = vec![
                Edit::Instead(range.start..op.end, "(match (".into()),
                Edit::After(range.end, after),
            ];
            self.add(whole, edits, &[format!("{was} to {now}")]);
        } else if matches!(whole.op, BinOp::And(_) | BinOp::Or(_))
            && !binds(&whole.left)
            && !binds(&whole.right)
        {
            // either with both sides and the result denied is the other
            let (was, now) =
                if matches!(whole.op, BinOp::And(_)) { ("&&", "||") } else { ("||", "&&") };
            let edits = three(
                "(match crate::mutant::on(#0) { __m => (((",
                &format!(") ^ __m) {was} (("),
                ") ^ __m)) ^ __m })".into(),
            );
            self.add(whole, edits, &[format!("{was} to {now}")]);
        }
    }

    fn literal(&mut self, whole: &Expr, literal: &Lit) {
        let now = match literal {
            Lit::Int(int) => {
                int.base10_parse::<u64>().ok().map(|n| format!("{}{}", n + 1, int.suffix()))
            }
            Lit::Float(float) => {
                float.base10_parse::<f64>().ok().map(|n| format!("{:?}{}", n + 1.0, float.suffix()))
            }
            Lit::Bool(word) => Some((!word.value).to_string()),
            _ => None,
        };
        if let Some(now) = now {
            let change = format!("{} to {now}", &self.source[bytes(whole)]);
            self.around(whole, "crate::mutant::pick(#0, ", &format!(", {now})"), &change);
        }
    }

    /// Denied, if it isn't changed in another way.
    fn condition(&mut self, condition: &Expr) {
        let plain = match condition {
            Expr::MethodCall(call) => !answers_yes_or_no(&call.method.to_string()),
            Expr::Path(_) | Expr::Field(_) | Expr::Call(_) | Expr::Macro(_) | Expr::Index(_) => {
                true
            }
            _ => false,
        };
        if plain {
            self.around(condition, "((", ") ^ crate::mutant::on(#0))", "condition denied");
        }
    }

    fn method(&mut self, call: &syn::ExprMethodCall) {
        let (range, receiver) = (bytes(call), bytes(&call.receiver));
        let name = call.method.to_string();
        if call.turbofish.is_some() {
            return;
        }
        let end = Edit::After(range.end, String::new());
        match (name.as_str(), call.args.first()) {
            (_, _) if answers_yes_or_no(&name) => {
                self.around(call, "((", ") ^ crate::mutant::on(#0))", &format!("{name} denied"));
            }
            ("min" | "max", Some(other)) => {
                let now = if name == "min" { "max" } else { "min" };
                let after = format!(
                    " {{ (__l, __r) => if crate::mutant::on(#0) {{ __l.{now}(__r) }} else {{ __l.{name}(__r) }} }})"
                );
                let edits = vec![
                    Edit::Before(range.start, "(match (".into()),
                    Edit::Instead(receiver.end..bytes(other).start, ", ".into()),
                    Edit::After(range.end, after),
                ];
                self.add(call, edits, &[format!("{name} to {now}")]);
            }
            ("any" | "all" | "min_by" | "max_by", Some(by)) => {
                let now = match name.as_str() {
                    "any" => "all",
                    "all" => "any",
                    "min_by" => "max_by",
                    _ => "min_by",
                };
                let edits = vec![
                    Edit::Before(range.start, format!("crate::mutant::{name}(#0, ")),
                    Edit::Instead(receiver.end..bytes(by).start, ", ".into()),
                    end,
                ];
                self.add(call, edits, &[format!("{name} to {now}")]);
            }
            ("min" | "max", None) => {
                let now = if name == "min" { "max" } else { "min" };
                let edits = vec![
                    Edit::Before(range.start, format!("crate::mutant::{name}(#0, ")),
                    Edit::Instead(receiver.end..range.end, ")".into()),
                ];
                self.add(call, edits, &[format!("{name} to {now}")]);
            }
            ("floor" | "ceil" | "abs" | "sin" | "cos", None) => {
                let (now, change) = match name.as_str() {
                    "floor" => ("__v.ceil()", "floor to ceil"),
                    "ceil" => ("__v.floor()", "ceil to floor"),
                    "sin" => ("__v.cos()", "sin to cos"),
                    "cos" => ("__v.sin()", "cos to sin"),
                    _ => ("__v", "abs left out"),
                };
                let after = format!(
                    ") {{ __v => if crate::mutant::on(#0) {{ {now} }} else {{ __v.{name}() }} }})"
                );
                let edits = vec![
                    Edit::Before(range.start, "(match (".into()),
                    Edit::Instead(receiver.end..range.end, after),
                ];
                self.add(call, edits, &[change.into()]);
            }
            _ => {}
        }
    }
}

impl<'ast> Visit<'ast> for Finder<'_> {
    fn visit_attribute(&mut self, _: &'ast Attribute) {}
    fn visit_pat(&mut self, _: &'ast syn::Pat) {}
    fn visit_type(&mut self, _: &'ast syn::Type) {}
    fn visit_generic_argument(&mut self, _: &'ast syn::GenericArgument) {}
    fn visit_item_const(&mut self, _: &'ast syn::ItemConst) {}
    fn visit_item_static(&mut self, _: &'ast syn::ItemStatic) {}
    fn visit_impl_item_const(&mut self, _: &'ast syn::ImplItemConst) {}
    fn visit_trait_item_const(&mut self, _: &'ast syn::TraitItemConst) {}
    fn visit_variant(&mut self, _: &'ast syn::Variant) {}

    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        if item.sig.constness.is_none() && !for_tests(&item.attrs) {
            visit::visit_item_fn(self, item);
        }
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        if item.sig.constness.is_none() && !for_tests(&item.attrs) {
            visit::visit_impl_item_fn(self, item);
        }
    }

    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        if !for_tests(&item.attrs) {
            visit::visit_item_mod(self, item);
        }
    }

    fn visit_item_impl(&mut self, item: &'ast syn::ItemImpl) {
        if !for_tests(&item.attrs) {
            visit::visit_item_impl(self, item);
        }
    }

    fn visit_stmt(&mut self, statement: &'ast Stmt) {
        if let Stmt::Expr(call @ (Expr::MethodCall(_) | Expr::Call(_)), Some(_)) = statement {
            let name = match call {
                Expr::MethodCall(call) => call.method.to_string(),
                _ => "call".into(),
            };
            self.around(
                statement,
                "if crate::mutant::off(#0) { ",
                " }",
                &format!("{name} left out"),
            );
        }
        visit::visit_stmt(self, statement);
    }

    fn visit_arm(&mut self, arm: &'ast syn::Arm) {
        if let Some((_, guard)) = &arm.guard {
            self.condition(guard);
        }
        visit::visit_arm(self, arm);
    }

    fn visit_expr(&mut self, whole: &'ast Expr) {
        match whole {
            Expr::Binary(both) => {
                self.binary(both);
                if assigned(&both.op).is_some() {
                    // its text stands twice
                    return self.visit_expr(&both.right);
                }
            }
            Expr::Unary(one) if matches!(one.op, UnOp::Neg(_)) => {
                let edits = vec![
                    Edit::Instead(bytes(&one.op), "(match (".into()),
                    Edit::After(
                        bytes(one).end,
                        ") { __v => if crate::mutant::on(#0) { __v } else { -__v } })".into(),
                    ),
                ];
                self.add(one, edits, &["- left out".into()]);
            }
            Expr::Unary(one) if matches!(one.op, UnOp::Not(_)) => {
                let edits = vec![
                    Edit::Instead(bytes(&one.op), "((".into()),
                    Edit::After(bytes(one).end, ") ^ crate::mutant::off(#0))".into()),
                ];
                self.add(one, edits, &["! left out".into()]);
            }
            Expr::Lit(literal) => self.literal(whole, &literal.lit),
            Expr::MethodCall(call) => self.method(call),
            Expr::Call(call) if matches!(&*call.func, Expr::Path(path) if path.path.is_ident("Some")) => {
                if let Some(value) = call.args.first() {
                    let (range, value) = (bytes(call), bytes(value));
                    let edits = vec![
                        Edit::Instead(range.start..value.start, "crate::mutant::some(#0, ".into()),
                        Edit::After(range.end, String::new()),
                    ];
                    self.add(call, edits, &["Some to None".into()]);
                }
            }
            Expr::Range(range) => {
                if let Some(end) = &range.end
                    && !matches!(**end, Expr::Lit(_))
                {
                    let limits =
                        if matches!(range.limits, RangeLimits::HalfOpen(_)) { ".." } else { "..=" };
                    let after = ") { __v => if crate::mutant::on(#0) { __v + 1 } else { __v } })";
                    self.around(&**end, "(match (", after, &format!("{limits} one further"));
                }
            }
            Expr::If(choice) => self.condition(&choice.cond),
            Expr::While(turn) => self.condition(&turn.cond),
            Expr::Repeat(list) => return self.visit_expr(&list.expr),
            Expr::Const(_) => return,
            _ => {}
        }
        visit::visit_expr(self, whole);
    }

    fn visit_macro(&mut self, mac: &'ast Macro) {
        let name = mac.path.segments.last().map(|last| last.ident.to_string()).unwrap_or_default();
        let parts = match name.as_str() {
            "vec" | "format" | "write" | "writeln" => {
                mac.parse_body_with(Punctuated::<Expr, Token![,]>::parse_terminated).ok()
            }
            "matches" => mac
                .parse_body_with(|input: ParseStream<'_>| {
                    let value: Expr = input.parse()?;
                    input.parse::<proc_macro2::TokenStream>()?;
                    Ok(Punctuated::from_iter([value]))
                })
                .ok(),
            _ => None,
        };
        for part in parts.iter().flatten() {
            self.visit_expr(part);
        }
    }
}
