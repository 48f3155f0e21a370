//! Proofs over listed columns, worked by hand: each split, form and column does what it can, and no more.

use super::{bars, one_by_one};
use crate::solve::check::list;
use crate::solve::check::{Refusal, ground, settle};
use crate::solve::{Certificate, Form, Listed, Model, Node, On, Prices, Proof, Row};

/// Worths of rows and forms, where a column costs 1 and is worth 1.
fn worths(rows: &[i64], forms: &[(usize, i64)]) -> Prices {
    let (rows, forms) = (rows.to_vec(), forms.to_vec());
    Prices { scale: 1, rows, forms, families: vec![1], ..Prices::default() }
}

fn priced(rows: &[i64], forms: &[(usize, i64)]) -> Node {
    Node::Priced(std::sync::Arc::new(worths(rows, forms)))
}

fn listed(model: &Model, forms: Vec<Form>, nodes: Vec<Node>) -> Listed {
    // worth nothing, so that every column is listed
    let prices = worths(&vec![0; model.rows.len()], &[]);
    Listed { prices, forms, fixings: Vec::new(), nodes }
}

/// The bound of a proof over all columns, for a plan in which every piece has its own bar.
fn bound(model: Model, forms: Vec<Form>, nodes: Vec<Node>) -> i64 {
    let plan = one_by_one(&model).unwrap();
    let node = Node::Listed(Box::new(listed(&model, forms, nodes)));
    let certificate = Certificate { levels: vec![vec![Proof::tree(vec![node])]] };
    settle(&super::Asked(model), plan, &certificate, &|| false).unwrap().bound()[0]
}

/// One split on the first form, with prices on both sides.
fn split(at: i64, below: Node, above: Node) -> Vec<Node> {
    vec![Node::Split { on: On::Form(0), at, below: 1, above: 2 }, below, above]
}

/// Pieces of half a bar, a, b, c and so on: two of them fit, and no bar holds two alike.
fn halves(wanted: &[i64]) -> Model {
    let pieces: Vec<(i64, i64)> = wanted.iter().map(|&wanted| (5, wanted)).collect();
    let mut model = bars(&[(10, 1, 9)], &pieces);
    model.items[0].iter_mut().for_each(|item| item.most = 1);
    model
}

/// A bar takes one of two halves, rounded up, of what it holds of the three: a half of three, rounded up, is 2.
#[test]
fn half_of_what_all_bars_hold_is_rounded_up() {
    let all = Form::Halves(vec![0, 1, 2]);
    assert_eq!(bound(halves(&[1, 1, 1]), vec![all], vec![priced(&[0; 3], &[(0, 1)])]), 2);
    // of two it is 1, and of five 3
    let two = Form::Halves(vec![0, 1]);
    assert_eq!(bound(halves(&[1, 1, 1]), vec![two], vec![priced(&[0; 3], &[(0, 1)])]), 1);
    let all = Form::Halves(vec![0, 1, 2]);
    assert_eq!(bound(halves(&[2, 2, 1]), vec![all], vec![priced(&[0; 3], &[(0, 1)])]), 3);
}

/// Without a bar that holds a and b, a and b take one each. With one, c takes another.
#[test]
fn a_split_on_two_pieces_together() {
    let nodes = || split(0, priced(&[1, 1, 0], &[(0, -1)]), priced(&[0, 0, 1], &[(0, 1)]));
    assert_eq!(bound(halves(&[1, 1, 1]), vec![Form::Both(0, 1)], nodes()), 2);
    assert_eq!(bound(halves(&[1, 1, 1]), vec![Form::Both(1, 0)], nodes()), 2);
}

/// Three of a and one of b. Without a bar of two a there are three bars with an a; with one, b takes another.
#[test]
fn a_split_on_two_of_one_piece() {
    let model = bars(&[(10, 1, 9)], &[(5, 3), (5, 1)]);
    let nodes = split(0, priced(&[1, 0], &[(0, -1)]), priced(&[0, 1], &[(0, 1)]));
    assert_eq!(bound(model, vec![Form::Both(0, 0)], nodes), 2);
}

/// Two of each of three are three bars: without the bar ab four hold an a or a b; with it, c takes two others.
#[test]
fn a_split_on_how_often_a_column_is_used() {
    let column = |entries: &[(usize, i64)]| Form::Column { family: 0, entries: entries.to_vec() };
    let both = || vec![column(&[(0, 1), (1, 1)])];
    let without = || priced(&[1, 1, 0], &[]);
    assert_eq!(bound(halves(&[2; 3]), both(), split(0, without(), priced(&[0, 0, 1], &[]))), 3);
    // at most one of them: 4 less 1
    assert_eq!(bound(halves(&[2; 3]), both(), split(1, without(), priced(&[0, 0, 1], &[]))), 3);
    // c fills a bar: with ab, all it can be of use, c takes another; without it a, b and c take three
    let mut model = bars(&[(10, 1, 9)], &[(5, 1), (5, 1), (10, 1)]);
    model.items[0].iter_mut().for_each(|item| item.most = 1);
    let nodes = split(0, priced(&[1, 1, 1], &[]), priced(&[0, 0, 1], &[]));
    assert_eq!(bound(model.clone(), both(), nodes), 2);
    // a column that no plan needs: there are none of it, and no plan has one
    let none = || vec![column(&[(2, 2)])];
    let nodes = split(0, priced(&[1, 0, 1], &[]), priced(&[0; 3], &[]));
    assert_eq!(bound(model, none(), nodes), 2);
}

/// A list says nothing of plans that must use a family, or that may not have more of a row.
#[test]
fn a_list_is_refused_where_rows_or_families_do_more_than_cover() {
    let of = |model: &Model| {
        let counts = model.families.iter().map(|family| (family.least, family.most)).collect();
        let listed = listed(model, Vec::new(), vec![priced(&[0; 3], &[])]);
        list::bound(&ground::Ground::without_cost(model), &listed, &counts, &|| false)
    };
    let refused = Err(Refusal::Malformed("a list where rows do more than cover"));
    assert!(of(&halves(&[1; 3])).is_ok());
    let mut wanted = halves(&[1; 3]);
    wanted.families[0].least = 1;
    assert_eq!(of(&wanted), refused);
    let mut limited = halves(&[1; 3]);
    limited.rows[1].most = Some(1);
    assert_eq!(of(&limited), refused);
    let mut open = halves(&[1; 3]);
    open.rows[1] = Row::default();
    assert_eq!(of(&open), refused);
}
