//! Roof files that are ordered together: read, framed, laid and cut.

use crate::key;
use std::path::{Path, PathBuf};

use crate::answer::{Input, Source};
use crate::deck::RoofDeck;
use crate::frame::Frame;
use crate::measure::{Units, Writing};
use crate::order::cutting::NoPlan;
use crate::order::{Framed, Order, Prices, Roof, SectionAsk, SectionOrder, Tag, lumber};
use crate::plan::{Asked, Fault, Faults, Key, OrderPlan, Place, together};

use super::cutting::controlled;
use super::files;
use super::input;
use super::output::Failure;
use super::sheathing::{deck_faults, lay_watched};
use super::watch::Stopwatch;

/// One roof file, read and framed.
#[derive(Debug)]
pub(super) struct Framing {
    /// How its roof is called and how often it is built.
    pub(super) tag: Tag,
    /// Its plan.
    pub(super) plan: OrderPlan,
    /// Its frame.
    pub(super) frame: Frame,
    input: Input,
}

/// Roof files, one at least, whose roofs are ordered together.
#[derive(Debug)]
pub(super) struct Roofs(Vec<Framing>);

impl Roofs {
    /// Reads roof files and frames their roofs; the faults of all files are told at once.
    pub(super) fn read(paths: &[PathBuf]) -> Result<Roofs, Failure> {
        refuse_twice(paths)?;
        Roofs::of(&[], all(paths.iter().map(|path| input::roof(path)))?)
    }

    /// As [`Roofs::read`], of files that were read already. Flags override every file.
    pub(super) fn of(flags: &[(Key, String)], files: Vec<Source>) -> Result<Roofs, Failure> {
        let names: Vec<PathBuf> = files.iter().map(|file| PathBuf::from(&file.name)).collect();
        let inputs: Vec<Input> =
            files.into_iter().map(|file| Input::of(flags, Some(file))).collect();
        let plans = all(inputs.iter().map(|input| Ok(input.plan(OrderPlan::read)?)))?;
        let said: Vec<(Option<String>, u32)> = plans
            .iter()
            .zip(&names)
            .map(|(plan, path)| (called(plan, path, names.len()), plan.buy.buildings))
            .collect();
        let writing = inputs.first().map_or(Writing::default(), |input| match input.units() {
            Units::Millimeters => Writing::METRIC,
            _ => Writing::default(),
        });
        refuse_apart(&inputs, &plans, writing)?;
        let frames = all(inputs.iter().zip(&plans).map(|(input, plan)| {
            Ok(Frame::build(&plan.gable).map_err(|why| input.cannot_build(why))?)
        }))?;
        let framings = Tag::of_files(&said)
            .into_iter()
            .zip(plans)
            .zip(frames)
            .zip(inputs)
            .map(|(((tag, plan), frame), input)| Framing { tag, plan, frame, input })
            .collect();
        Ok(Roofs(framings))
    }

    /// The units of the page: those that the first roof is written in.
    pub(super) fn units(&self) -> Units {
        self.0.first().map_or(Units::Feet, |one| one.input.units())
    }

    /// Every roof.
    pub(super) fn framings(&self) -> &[Framing] {
        &self.0
    }

    /// How the roofs are called.
    pub(super) fn tags(&self) -> Vec<Tag> {
        self.0.iter().map(|one| one.tag.clone()).collect()
    }

    /// Lays every deck, cuts every section of all frames together, and puts the order together.
    pub(super) fn ordered(
        &self,
        prices: Option<&Prices>,
        units: Units,
        watch: Stopwatch,
    ) -> Result<Order, Failure> {
        let sites: Vec<Site<'_>> = self.0.iter().map(Framing::site).collect();
        ordered(&sites, prices, units, watch)
    }

    /// Cuts every section of all frames together.
    pub(super) fn cut(
        &self,
        prices: Option<&Prices>,
        units: Units,
        watch: Stopwatch,
    ) -> Result<Vec<SectionOrder>, Failure> {
        let sites: Vec<Site<'_>> = self.0.iter().map(Framing::site).collect();
        cut(&sites, prices, units, watch)
    }
}

impl Framing {
    fn site(&self) -> Site<'_> {
        Site { tag: self.tag.clone(), plan: &self.plan, frame: &self.frame, input: &self.input }
    }
}

/// A framed roof on the way to an order, and where its faults are told.
#[derive(Debug)]
pub(super) struct Site<'a> {
    tag: Tag,
    plan: &'a OrderPlan,
    frame: &'a Frame,
    input: &'a Input,
}

impl<'a> Site<'a> {
    /// The roof of the only file.
    pub(super) fn only(plan: &'a OrderPlan, frame: &'a Frame, input: &'a Input) -> Site<'a> {
        let tag = Tag::only(plan.gable.rafter.name.as_deref(), plan.buy.buildings);
        Site { tag, plan, frame, input }
    }
}

/// Lays every deck, cuts every section of all frames together, and puts the order together.
pub(super) fn ordered(
    sites: &[Site<'_>],
    prices: Option<&Prices>,
    units: Units,
    watch: Stopwatch,
) -> Result<Order, Failure> {
    let roofs = all(sites.iter().map(|site| {
        let vented = site.plan.checks.ridge_vent_in2.is_some_and(|area| area > 0.0);
        let roof_deck = RoofDeck::of(site.frame, &site.plan.deck, vented);
        let deck = lay_watched(&roof_deck.ask, watch)
            .map_err(|faults| site.input.refused(deck_faults(&site.input.entries, &faults)))?;
        Ok(Roof { tag: site.tag.clone(), plan: site.plan, frame: site.frame, roof_deck, deck })
    }))?;
    let sections = cut(sites, prices, units, watch)?;
    Ok(Order::new(roofs, sections, prices, units))
}

fn cut(
    sites: &[Site<'_>],
    prices: Option<&Prices>,
    units: Units,
    watch: Stopwatch,
) -> Result<Vec<SectionOrder>, Failure> {
    let frames: Vec<Framed<'_>> = sites
        .iter()
        .map(|site| Framed { tag: site.tag.clone(), frame: site.frame, buy: &site.plan.buy })
        .collect();
    let none = Prices::default();
    lumber::asks(&frames, prices.unwrap_or(&none), units)
        .into_iter()
        .map(|ask| {
            let title = ask.section.write(units);
            controlled(ask.problem(), watch, |control| SectionAsk::solve(ask.clone(), control))
                .map_err(|why| sites[0].input.refused(cannot_cut(&title, why)).into())
        })
        .collect()
}

fn cannot_cut(title: &str, why: NoPlan) -> Faults {
    let place = || Place::Missing { key: key!("order.lengths").name(), flag: None };
    match why {
        NoPlan::Faults(faults) => faults
            .into_iter()
            .map(|fault| Fault::new(place(), format!("{title}: {}", fault.message), fault.help))
            .collect(),
        NoPlan::NotEnoughStock { .. } => Faults::from(Fault::new(
            place(),
            format!("{title}: the sticks on hand do not suffice for all pieces"),
            "name more lengths that can be bought under [order] lengths or in the prices file, or leave on_hand blank there",
        )),
    }
}

/// All values, or all failures together.
fn all<T>(each: impl Iterator<Item = Result<T, Failure>>) -> Result<Vec<T>, Failure> {
    let (mut values, mut failures) = (Vec::new(), Vec::new());
    for one in each {
        match one {
            Ok(value) => values.push(value),
            Err(failure) => failures.push(failure),
        }
    }
    match failures.len() {
        0 => Ok(values),
        1 => Err(failures.remove(0)),
        _ => Err(Failure::Several(failures)),
    }
}

/// Name of the job; of one among several the file's own, if it has none.
fn called(plan: &OrderPlan, path: &Path, files: usize) -> Option<String> {
    let own = plan.gable.rafter.name.clone();
    let stem = || path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
    if files > 1 { own.or_else(stem) } else { own }
}

/// A file named twice would be ordered twice under two letters.
pub(super) fn refuse_twice(paths: &[PathBuf]) -> Result<(), Failure> {
    let same = |path: &PathBuf| {
        if files::is_stdout(path) {
            path.clone()
        } else {
            path.canonicalize().unwrap_or(path.clone())
        }
    };
    let named: Vec<PathBuf> = paths.iter().map(same).collect();
    match (1..named.len()).find(|place| named[..*place].contains(&named[*place])) {
        Some(place) => Err(Failure::of_flag(
            "FILE",
            &paths[place].display().to_string(),
            "this file is named twice",
            "name it once; for equal buildings set order.buildings in the roof file",
        )),
        None => Ok(()),
    }
}

fn refuse_apart(inputs: &[Input], plans: &[OrderPlan], writing: Writing) -> Result<(), Failure> {
    let apart = together(plans, writing);
    all(inputs.iter().enumerate().map(|(place, input)| {
        let asked = Asked::new(&input.entries);
        let faults: Faults = apart
            .iter()
            .filter(|apart| apart.roof == place)
            .map(|apart| Fault::new(asked.place(apart.key), &apart.message, apart.help))
            .collect();
        if faults.is_empty() { Ok(()) } else { Err(input.refused(faults).into()) }
    }))
    .map(|_| ())
}
