//! A stick as it lies on the horses: its top from above, and its near face below it, with what is measured along both.

use crate::frame::Member;
use crate::geom::DVec2;
use crate::measure::Units;
use crate::measure::tolerance::HAIR;

use super::super::super::dimensions::Dimensions;
use super::super::super::drawing::{Anchor, Drawing, Item, Pen};
use super::super::super::paper::SMALL;
use super::super::super::scale::{self, member_scales};
use super::super::members::broken::Broken;
use super::super::members::card::{EDGE, FACE, HIGHEST, Shown, cut_stretches, extent, picture};

/// Room beside the work for names of the views, and for dimensions beyond its ends.
const ASIDE: f64 = 0.85;
/// The same at the right where a length runs on beyond the stick.
const PAST: f64 = 1.3;
/// From the work to the first row of dimensions above and below it.
const OVER: f64 = 0.16;
const UNDER: f64 = 0.27;
/// Between the two views.
const BETWEEN: f64 = 0.16;

/// A length along the stick between two stations, with its words.
pub(super) struct Span {
    /// From here, inches along the stick.
    pub(super) from: f64,
    /// To here.
    pub(super) to: f64,
    /// What it says.
    pub(super) words: String,
}

/// What is shown of a stick.
pub(super) struct Views<'a> {
    /// The stick.
    pub(super) member: &'a Member,
    /// Measured along the middle of its top.
    pub(super) along_top: Vec<Span>,
    /// Measured along the bottom of its near face.
    pub(super) along_bottom: Vec<Span>,
    /// Lines that are drawn on its near face and not cut: station and height above the bottom edge.
    pub(super) lines: Vec<[DVec2; 2]>,
}

impl Views<'_> {
    /// The drawing, `wide` inches wide, with its scale in words.
    pub(super) fn drawing(&self, wide: f64, units: Units) -> (Drawing, String) {
        let section = &self.member.stick.section;
        let (thick, deep) = (section.thickness_in(), section.depth_in());
        let top = Shown { sight: EDGE, low: -thick / 2.0, high: thick / 2.0, name: "top" };
        let face = Shown { sight: FACE, low: 0.0, high: deep, name: "face" };
        let views = [top, face];
        let (_, last) = self.member.stick.reach();
        let runs_on = self.along_top.iter().any(|span| span.to > last + HAIR);
        let right = if runs_on { PAST } else { ASIDE };
        let broken = self.fitted(&views, wide - ASIDE - right, units);
        let left = ASIDE + (wide - ASIDE - right - broken.width()).max(0.0) / 2.0;
        let high = deep / broken.ratio;
        let lift = high + BETWEEN;
        let x =
            |station: f64| left + broken.place(station) + (station - last).max(0.0) / broken.ratio;
        let mut scratch = Drawing::new(wide, 0.0);
        picture(self.member, &views[0], &broken, DVec2::new(left, lift), &mut scratch);
        picture(self.member, &views[1], &broken, DVec2::new(left, 0.0), &mut scratch);
        for line in &self.lines {
            for [from, to] in broken.line(*line) {
                let by = DVec2::X * left;
                scratch.line(vec![from + by, to + by], Pen::Dashed);
            }
        }
        let middle = lift + thick / 2.0 / broken.ratio;
        let mut over = Dimensions::new(DVec2::Y, lift + thick / broken.ratio + OVER);
        for Span { from, to, words } in &self.along_top {
            for station in [from, to] {
                let foot = DVec2::new(x(*station), lift);
                scratch.line(vec![foot, foot + DVec2::Y * (thick / broken.ratio)], Pen::Dashed);
            }
            let at = |station: f64| DVec2::new(x(station), middle);
            over.add(at(*from), at(*to), words.clone());
        }
        over.draw(&mut scratch);
        let mut under = Dimensions::new(DVec2::NEG_Y, UNDER);
        for Span { from, to, words } in &self.along_bottom {
            under.add(DVec2::new(x(*from), 0.0), DVec2::new(x(*to), 0.0), words.clone());
        }
        under.draw(&mut scratch);
        for (name, at) in [("from above", middle), ("near face", high / 2.0)] {
            scratch.text(DVec2::new(0.0, at - SMALL / 2.0), name, SMALL, Anchor::Start);
        }
        let (low, up) = extent(&scratch);
        let mut drawing = Drawing::new(wide, up - low + 0.1);
        drawing.items = scratch
            .items
            .into_iter()
            .map(|item: Item| item.moved(DVec2::Y * (0.05 - low)))
            .collect();
        let mut words = scale::words(broken.ratio, units);
        if broken.parts.len() > 1 {
            words.push_str(", broken between its cuts");
        }
        (drawing, words)
    }

    /// The largest scale at which the parts with cuts and marks fit `room`.
    fn fitted(&self, views: &[Shown; 2], room: f64, units: Units) -> Broken {
        let (first, last) = self.member.stick.reach();
        let deep = self.member.stick.section.depth_in();
        let mut cut = cut_stretches(self.member, views);
        let spans = self.along_top.iter().chain(&self.along_bottom);
        let marks = spans.flat_map(|span| [span.from, span.to]);
        cut.extend(marks.filter(|at| (first..=last).contains(at)).map(|at| (at, at)));
        cut.sort_by(|one, other| one.0.total_cmp(&other.0).then(one.1.total_cmp(&other.1)));
        for ratio in member_scales(units).iter().copied().skip(1) {
            if deep / ratio > HIGHEST {
                continue;
            }
            if (last - first) / ratio <= room {
                return Broken::whole(first, last, ratio);
            }
            let wider = (0..12)
                .map(|step| Broken::new(&cut, deep * 0.5 * 1.25_f64.powi(12 - step), ratio))
                .find(|broken| broken.width() <= room * 0.9);
            if let Some(broken) = wider {
                return broken;
            }
        }
        Broken::whole(first, last, (last - first) / room)
    }
}
