//! The checker against brute force: no proof, however invented, gets a bound above the best plan.

use std::collections::HashMap;

use proptest::prelude::*;

use super::*;
use crate::solve::{Arc, Family, Form, Item, Limit, Listed, Node, On, Paths, Prices, Row, Strips};

mod lists;

/// A question that is its model.
struct Asked(Model);

impl Question for Asked {
    fn model(&self) -> Model {
        self.0.clone()
    }

    fn rules(&self) -> String {
        "cheapest with these bars".into()
    }
}

impl Plan<Asked> for Vec<Taken> {
    fn taken(&self, _: &Asked) -> Vec<Taken> {
        self.clone()
    }
}

/// Bars of some capacities at some costs, and pieces of some sizes with their numbers.
fn bars(bars: &[(i64, i64, i64)], pieces: &[(i64, i64)]) -> Model {
    Model {
        rows: pieces.iter().map(|p| Row::at_least(p.1)).collect(),
        items: vec![
            pieces
                .iter()
                .enumerate()
                .map(|(row, &(size, most))| Item { size, row, most })
                .collect(),
        ],
        families: bars
            .iter()
            .map(|&(capacity, cost, most)| Family {
                cost: vec![cost],
                least: 0,
                most,
                members: Members::Packs { capacity, items: 0, strips: None },
            })
            .collect(),
        levels: 1,
    }
}

fn pack(family: usize, items: &[(usize, i64)], times: i64) -> Taken {
    Taken { family, pick: Pick::Pack { items: items.to_vec(), strips: Vec::new() }, times }
}

/// Two bars of 10 for four pieces of 4 and two of 2, by hand: 20 units fill both completely.
fn two_bars() -> (Asked, Vec<Taken>) {
    let asked = Asked(bars(&[(10, 7, 6)], &[(4, 4), (2, 2)]));
    (asked, vec![pack(0, &[(0, 2), (1, 1)], 2)])
}

fn by_length(scale: i64) -> Certificate {
    // 20 units at 7 for 10 are 14; a bar is worth no more than 7
    let prices =
        Prices { scale: 10 * scale, rows: vec![4 * scale, 2 * scale], ..Prices::default() };
    Certificate { levels: vec![vec![Proof::priced(prices)]] }
}

#[test]
fn a_full_plan_is_proven_by_length() {
    let (asked, plan) = two_bars();
    let settled = settle(&asked, plan, &by_length(1), &|| false).unwrap();
    assert_eq!((settled.value(), settled.bound()), (&[14][..], &[14][..]));
    assert_eq!(settled.rules(), "cheapest with these bars");
    assert!(matches!(settled, Settled::Proven(_)));
}

#[test]
fn a_dearer_plan_stays_open_under_the_same_certificate() {
    let (asked, _) = two_bars();
    let plan = vec![pack(0, &[(0, 2)], 2), pack(0, &[(1, 2)], 1)];
    let settled = settle(&asked, plan, &by_length(1), &|| false).unwrap();
    assert_eq!((settled.value(), settled.bound()), (&[21][..], &[14][..]));
    assert!(!settled.is_proven());
    // and nothing is proven without a certificate
    let (asked, plan) = two_bars();
    assert!(!settle(&asked, plan, &Certificate::default(), &|| false).unwrap().is_proven());
}

#[test]
fn plans_that_are_none_are_refused() {
    let (asked, _) = two_bars();
    let fault = |plan: Vec<Taken>| settle(&asked, plan, &by_length(1), &|| false).unwrap_err();
    assert_eq!(fault(vec![pack(0, &[(0, 2), (1, 1)], 1)]), Fault::Row(0));
    assert_eq!(fault(vec![pack(0, &[(0, 3)], 2)]), Fault::Column(0));
    assert_eq!(fault(vec![pack(0, &[(1, 3)], 2)]), Fault::Column(0));
    assert_eq!(fault(vec![pack(0, &[(0, 2), (1, 1)], 7)]), Fault::Family(0));
    assert_eq!(fault(vec![pack(1, &[(0, 2)], 2)]), Fault::Column(0));
}

#[test]
fn too_few_bars_are_proven_by_length_too() {
    let (mut asked, _) = two_bars();
    asked.0.families[0].most = 1;
    let proof = by_length(1).levels[0][0].clone();
    assert!(impossible(&asked, &proof, &|| false).is_ok());
    asked.0.families[0].most = 2;
    assert!(impossible(&asked, &proof, &|| false).is_err());
}

#[test]
fn strips_and_paths_are_worth_what_the_best_of_them_is() {
    // a sheet of 10: items of 4 along it, and the rest in two strips of items of 3; by hand: one 4
    // leaves 6, two 3s in each of two strips: 5 + 4 x 3 = 17; none leaves 10, three in each: 18; two
    // leave 2: 10
    let model = Model {
        rows: vec![Row::at_least(1), Row::at_least(1)],
        items: vec![
            vec![Item { size: 4, row: 0, most: 9 }],
            vec![Item { size: 3, row: 1, most: 9 }],
        ],
        families: vec![
            Family {
                cost: vec![1],
                least: 0,
                most: 9,
                members: Members::Packs {
                    capacity: 10,
                    items: 0,
                    strips: Some(Strips { count: 2, items: 1 }),
                },
            },
            Family {
                cost: vec![0],
                least: 1,
                most: 1,
                // 0 to 2 through 1, or directly: -5 - 3 against -7
                members: Members::Paths(Paths {
                    nodes: 3,
                    arcs: vec![
                        Arc { from: 0, to: 1, entries: vec![(0, -1)] },
                        Arc { from: 1, to: 2, entries: vec![(1, -1)] },
                        Arc { from: 0, to: 2, entries: vec![(0, -2), (1, 1)] },
                    ],
                }),
            },
        ],
        levels: 1,
    };
    let worth = worth::most(&model, &[5, 3], &limits::Limits::default(), |_| true).unwrap();
    assert_eq!(worth, [Some(18), Some(-7)]);
}

/// The least cost, by dynamic programming over the pieces still wanted: every bar filled in every way.
fn brute(model: &Model) -> Option<i64> {
    struct Brute<'a> {
        model: &'a Model,
        known: HashMap<(Vec<i64>, Vec<i64>), Option<i64>>,
    }
    impl Brute<'_> {
        fn best(&mut self, wanted: Vec<i64>, left: Vec<i64>) -> Option<i64> {
            let Some(first) = wanted.iter().position(|&w| w > 0) else {
                return Some(0);
            };
            let key = (wanted.clone(), left.clone());
            if let Some(&known) = self.known.get(&key) {
                return known;
            }
            let mut best: Option<i64> = None;
            for (k, family) in self.model.families.iter().enumerate() {
                let Members::Packs { capacity, .. } = family.members else {
                    continue;
                };
                let size = self.model.items[0][first].size;
                if left[k] == 0 || size > capacity {
                    continue;
                }
                let mut rests = Vec::new();
                let mut start = wanted.clone();
                start[first] -= 1;
                self.fill(first, capacity - size, start, &mut rests);
                let mut less = left.clone();
                less[k] -= 1;
                for rest in rests {
                    if let Some(cost) = self.best(rest, less.clone()) {
                        let sum = cost + family.cost[0];
                        best = Some(best.map_or(sum, |b| b.min(sum)));
                    }
                }
            }
            self.known.insert(key, best);
            best
        }

        fn fill(&self, from: usize, room: i64, mut now: Vec<i64>, rests: &mut Vec<Vec<i64>>) {
            let Some(item) = self.model.items[0].get(from) else {
                rests.push(now);
                return;
            };
            let mut room = room;
            loop {
                self.fill(from + 1, room, now.clone(), rests);
                if now[from] == 0 || room < item.size {
                    return;
                }
                now[from] -= 1;
                room -= item.size;
            }
        }
    }
    let wanted = model.rows.iter().map(|row| row.least.unwrap()).collect();
    let left = model.families.iter().map(|family| family.most).collect();
    let mut brute = Brute { model, known: HashMap::new() };
    brute.best(wanted, left)
}

/// Two neighboring courses from left to right: each breaks at the first rafter or the second, not both
/// at the same one. A bar holds ten pieces of any kind; the kinds are first and second left end.
fn two_courses() -> Asked {
    let course = |stagger: usize| {
        let arc = |from, to, entries| Arc { from, to, entries };
        Family {
            cost: vec![0],
            least: 1,
            most: 1,
            members: Members::Paths(Paths {
                nodes: 4,
                arcs: vec![
                    arc(0, 1, vec![(0, -1), (stagger, 1)]),
                    arc(0, 2, vec![(1, -1), (stagger + 1, 1)]),
                    arc(1, 3, vec![]),
                    arc(2, 3, vec![]),
                ],
            }),
        }
    };
    let item = |row| Item { size: 1, row, most: 10 };
    let pack = Family {
        cost: vec![1],
        least: 0,
        most: 9,
        members: Members::Packs {
            capacity: 10,
            items: 0,
            strips: Some(Strips { count: 3, items: 0 }),
        },
    };
    Asked(Model {
        rows: vec![Row::at_least(0), Row::at_least(0), Row::at_most(1), Row::at_most(1)],
        items: vec![vec![item(0), item(1)]],
        families: vec![pack, course(2), course(2)],
        levels: 1,
    })
}

fn limits(limits: &[Limit]) -> Result<limits::Limits, Refusal> {
    let counts = vec![(0, 9), (1, 1), (1, 1)];
    limits::Limits::new(&two_courses().0, limits, &counts)
}

#[test]
fn a_limit_is_what_all_columns_want_at_most() {
    let limit = |rows: &[usize], tolls: &[(usize, i64)]| {
        let limit = Limit { rows: rows.to_vec(), tolls: tolls.to_vec(), is_whole: true };
        limits(&[limit]).map(|limits| limits.groups[0].1)
    };
    // both courses may want the first kind, unless the rafter is shown to carry only one joint
    assert_eq!(limit(&[0], &[]), Ok(2));
    assert_eq!(limit(&[0], &[(2, 1)]), Ok(1));
    assert_eq!(limit(&[0, 1], &[]), Ok(2));
    assert_eq!(limit(&[0, 1], &[(2, 1), (3, 1)]), Ok(2));
    // tolls of the wrong sign, on rows without a most, on the things themselves; rows that do not exist
    assert!(limit(&[0], &[(2, -1)]).is_err());
    assert!(limit(&[0], &[(1, 1)]).is_err());
    assert!(limit(&[0], &[(0, 1)]).is_err());
    assert!(limit(&[2], &[]).is_err());
    assert!(limit(&[9], &[]).is_err());
    assert!(limit(&[0, 0], &[]).is_err());
    let twice = Limit { rows: vec![0], tolls: Vec::new(), is_whole: true };
    assert!(limits(&[twice.clone(), twice]).is_err());
}

#[test]
fn a_limit_where_others_than_packs_give_is_refused() {
    let mut asked = two_courses();
    asked.0.families.push(Family {
        cost: vec![0],
        least: 0,
        most: 5,
        members: Members::One(vec![(0, 1)]),
    });
    let limit = Limit { rows: vec![0], tolls: Vec::new(), is_whole: false };
    let counts = vec![(0, 9), (1, 1), (1, 1), (0, 5)];
    assert!(limits::Limits::new(&asked.0, &[limit], &counts).is_err());
}

#[test]
fn strips_share_a_limit() {
    // 1 for each wanted piece; a bar holds 40 pieces, but only two are ever wanted
    let asked = two_courses();
    let worth = |is_whole| {
        let limit = Limit { rows: vec![0, 1], tolls: Vec::new(), is_whole };
        let limits = limits(&[limit]).unwrap();
        worth::most(&asked.0, &[1, 1, 0, 0], &limits, |k| k == 0).unwrap()[0]
    };
    // for each strip two of each kind, and four strips; over the whole pack, two here and two in the
    // strips
    assert_eq!(worth(false), Some(16));
    assert_eq!(worth(true), Some(4));
}

/// A plan that always exists, far from best: every piece from its own bar.
fn one_by_one(model: &Model) -> Option<Vec<Taken>> {
    let mut left: Vec<i64> = model.families.iter().map(|f| f.most).collect();
    let mut plan = Vec::new();
    for (item, row) in model.items[0].iter().zip(&model.rows) {
        for _ in 0..row.least.unwrap() {
            let family = (0..left.len()).find(|&k| {
                let Members::Packs { capacity, .. } = model.families[k].members else {
                    return false;
                };
                left[k] > 0 && capacity >= item.size
            })?;
            left[family] -= 1;
            plan.push(pack(family, &[(item.row, 1)], 1));
        }
    }
    Some(plan)
}

fn model() -> impl Strategy<Value = Model> {
    (
        prop::collection::vec((8_i64..20, 0_i64..9, prop::option::of(0_i64..4)), 1..4),
        prop::collection::btree_map(2_i64..9, 1_i64..4, 1..5),
    )
        .prop_map(|(stock, pieces)| {
            let all: i64 = pieces.values().sum();
            let stock: Vec<_> = stock
                .into_iter()
                .map(|(capacity, cost, most)| (capacity, cost, most.unwrap_or(all)))
                .collect();
            let pieces: Vec<_> = pieces.into_iter().rev().collect();
            bars(&stock, &pieces)
        })
}

/// Any numbers, near those of a search: worths along the lengths, changed at random.
fn prices(model: &Model, draw: &[i64], forms: usize) -> Prices {
    let mut draw = draw.iter().copied().cycle();
    let mut next = |below: i64| draw.next().unwrap_or(0).rem_euclid(below);
    let scale = 40;
    let rows: Vec<i64> =
        model.items[0].iter().map(|item| (item.size * 12 + next(40) - 20).max(0)).collect();
    let families =
        model.families.iter().map(|family| family.cost[0] * scale + next(30) - 15).collect();
    let forms = (0..forms)
        .filter_map(|form| {
            let price = next(25) - 8;
            (price > 0).then_some((form, price))
        })
        .collect();
    Prices { scale, rows, levels: Vec::new(), forms, families }
}

/// A tree of two splits with invented prices in its leaves.
fn nodes(on: [On; 2], at: [i64; 2], leaf: impl Fn(usize) -> Prices) -> Vec<Node> {
    let split = |on, at, below, above| Node::Split { on, at, below, above };
    let priced = |k| Node::Priced(std::sync::Arc::new(leaf(k)));
    vec![split(on[0], at[0], 1, 2), split(on[1], at[1], 3, 4), priced(0), priced(1), priced(2)]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn no_proof_gets_above_the_best_plan(
        model in model(),
        draws in prop::collection::vec(any::<i64>(), 40),
        (first, second) in (0_usize..4, 0_usize..6),
        at in [0_i64..4, 0_i64..3],
    ) {
        let best = brute(&model);
        let families = model.families.len();
        let n = model.rows.len();
        let forms = vec![
            Form::Halves(vec![0]),
            Form::Halves((0..n).collect()),
            Form::Both(0, n - 1),
            Form::Both(0, 0),
            Form::Column { family: 0, entries: vec![(0, 1)] },
        ];
        let draw = |k: usize| &draws[k * 3..];
        let plain = nodes(
            [On::Family(first % families), On::Family(second % families)],
            at,
            |k| prices(&model, draw(k), 0),
        );
        // prices for the cuts alone: forms of splits have a price here only if their side has a bound
        let over = Listed {
            prices: prices(&model, draw(4), 0),
            forms,
            fixings: vec![prices(&model, draw(5), 2), prices(&model, draw(6), 2)],
            nodes: nodes(
                [On::Form(first + 1), On::Form(second % 5)],
                at,
                |k| prices(&model, draw(7 + k), 2),
            ),
        };
        let listed = Proof::tree(vec![Node::Listed(Box::new(over))]);
        let single = |row| Limit { rows: vec![row], tolls: Vec::new(), is_whole: false };
        let some = Limit { rows: (0..=second % n).collect(), tolls: Vec::new(), is_whole: true };
        let limits = (0..n).map(single).chain([some]).collect();
        let plain = Proof { limits, nodes: plain };
        let mut asked = Asked(model);
        for (proof, often) in [(listed, 0), (plain, 9)] {
            // more than is wanted may be packed, if it is of no use
            asked.0.items[0].iter_mut().for_each(|item| item.most += often);
            match (best, one_by_one(&asked.0)) {
                (Some(best), Some(plan)) => {
                    let certificate = Certificate { levels: vec![vec![proof]] };
                    let settled = settle(&asked, plan, &certificate, &|| false).unwrap();
                    prop_assert!(settled.bound()[0] <= best, "{:?} over {best}", settled.bound());
                }
                (Some(_), None) => prop_assert!(impossible(&asked, &proof, &|| false).is_err()),
                (None, _) => {}
            }
        }
    }
}
