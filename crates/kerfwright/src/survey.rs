//! `kerfwright survey`: measures every closed outline of a drawing.

use crate::args::{SurveyArgs, UnitsArg};
use crate::drawings;
use crate::exit::Exit;
use crate::remarks::{self, Sources};
use drawing::{Curve, Drawing, DrawnOutline, FittedCurve, Options};
use outline::{Corner, Outline, largest_circle, narrowest, thickness};
use package::{
    Fitted, FittedKind, LargestCircle, Narrowest, SURVEY_SCHEMA, SecondMoments, SidePoint, Survey,
    SurveyOutline, Thickness, TightestCorner, Units, UnitsFrom,
};
use rayon::prelude::*;
use remark::{Place, Remark};

/// Runs the command.
pub fn run(args: &SurveyArgs) -> Exit {
    let name = args.drawing.display().to_string();
    let options = Options {
        units: args.units.map(|units| match units {
            UnitsArg::Mm => drawing::Units::Mm,
            UnitsArg::In => drawing::Units::In,
        }),
        units_if_unstated: None,
        join_limit_mm: args.join_limit,
    };
    let read = drawings::bytes(&args.drawing, &name)
        .map_err(|remark| vec![remark])
        .and_then(|bytes| drawings::read(bytes, &name, &options));
    let survey = match read {
        Ok(read) => survey(&read.drawing, &options, &name),
        Err(found) => {
            remarks::say(&found, &Sources::new());
            return Exit::Input;
        }
    };
    let none_left = survey.outlines.is_empty();
    let printed = match args.json {
        true => print_json(&survey),
        false => crate::answer::print(&spoken(&survey, &name)),
    };
    remarks::say(&survey.remarks, &Sources::new());
    match (printed, none_left) {
        (false, _) => Exit::Other,
        (true, true) => Exit::Input,
        (true, false) => Exit::Done,
    }
}

/// Prints a document as JSON.
pub fn print_json<T: serde::Serialize>(document: &T) -> bool {
    match serde_json::to_string_pretty(document) {
        Ok(text) => crate::answer::print(&(text + "\n")),
        Err(_) => false,
    }
}

/// The measures of a drawing.
pub fn survey(drawing: &Drawing, options: &Options, name: &str) -> Survey {
    let mut remarks = drawing.remarks.clone();
    let measured: Vec<Result<SurveyOutline, Remark>> =
        drawing.outlines.par_iter().enumerate().map(|(i, _)| measure(drawing, i, name)).collect();
    let mut outlines = Vec::new();
    for one in measured {
        match one {
            Ok(one) => outlines.push(one),
            Err(remark) => remarks.push(remark),
        }
    }
    if drawing.outlines.is_empty() {
        remarks.push(
            Remark::error("no-outline", "the drawing holds no closed outline that can be used".to_owned())
                .place(Place::file(name)),
        );
    }
    Survey {
        schema: SURVEY_SCHEMA.to_owned(),
        units: match drawing.units {
            drawing::Units::Mm => Units::Mm,
            drawing::Units::In => Units::In,
        },
        units_from: match drawing.units_from {
            drawing::UnitsFrom::Drawing => UnitsFrom::Drawing,
            drawing::UnitsFrom::Option => UnitsFrom::Option,
            drawing::UnitsFrom::Assumed => UnitsFrom::Assumed,
        },
        join_limit_mm: options.join_limit_mm,
        outlines,
        fitted: drawing.fitted.iter().map(fitted).collect(),
        skipped: drawing.skipped.clone(),
        remarks,
    }
}

fn fitted(one: &FittedCurve) -> Fitted {
    let kind = match one.kind {
        Curve::Spline => FittedKind::Spline,
        Curve::Ellipse => FittedKind::Ellipse,
        Curve::Facets => FittedKind::Facets,
    };
    Fitted { kind, deviation_mm: one.deviation_mm, at_line: one.line }
}

fn measure(drawing: &Drawing, index: usize, name: &str) -> Result<SurveyOutline, Remark> {
    let drawn = &drawing.outlines[index];
    let outline = &drawn.outline;
    let inside: Vec<Outline> = (drawing.outlines.iter())
        .filter(|other| other.inside_of == Some(index))
        .map(|other| other.outline.clone())
        .collect();
    let circle = largest_circle(outline, &inside).map_err(|error| {
        Remark::error("circle", format!("outline {}: {error}", drawn.id))
            .place(Place::file(name).line(drawn.first_line))
    })?;
    let narrowest = narrowest(outline, &inside).map_err(|error| {
        Remark::error("narrowest", format!("outline {}: {error}", drawn.id))
            .place(Place::file(name).line(drawn.first_line))
    })?;
    let (moments, bounds, centroid) = (outline.second_moments(), outline.bounds(), outline.centroid());
    let vertices = match depth(&drawing.outlines, index) % 2 {
        0 => outline.vertices().to_vec(),
        _ => outline.clockwise_vertices(),
    };
    Ok(SurveyOutline {
        id: drawn.id.clone(),
        layer: drawn.layer.clone(),
        inside_of: drawn.inside_of.map(|i| drawing.outlines[i].id.clone()),
        vertices: vertices.iter().map(|v| [v.point.x, v.point.y, v.bulge]).collect(),
        area_mm2: outline.area(),
        perimeter_mm: outline.perimeter(),
        centroid_mm: [centroid.x, centroid.y],
        bounds_mm: [bounds.min.x, bounds.min.y, bounds.max.x, bounds.max.y],
        second_moments_mm4: SecondMoments {
            ixx: moments.ixx,
            iyy: moments.iyy,
            ixy: moments.ixy,
            least: moments.least,
        },
        largest_circle: LargestCircle {
            x_mm: circle.centre.x,
            y_mm: circle.centre.y,
            diameter_mm: 2.0 * circle.radius,
            proven_within_mm: circle.proven_within,
            tied: circle.tied,
        },
        tightest_inside_corner: outline.tightest_corner(true).map(corner),
        tightest_outside_corner: outline.tightest_corner(false).map(corner),
        narrowest: narrowest.map(|place| Narrowest {
            x_mm: place.centre.x,
            y_mm: place.centre.y,
            width_mm: place.width,
            sides: place.sides.map(|side| SidePoint { x_mm: side.x, y_mm: side.y }),
        }),
        thickness: thickness(outline, &inside)
            .into_iter()
            .map(|one| Thickness { x_mm: one.place.x, y_mm: one.place.y, width_mm: one.width })
            .collect(),
        moved_mm: drawn.moved_mm,
    })
}

/// How many outlines lie around this one.
fn depth(outlines: &[DrawnOutline], index: usize) -> usize {
    let mut depth = 0;
    let mut at = outlines[index].inside_of;
    while let Some(around) = at {
        depth += 1;
        at = outlines[around].inside_of;
    }
    depth
}

fn corner(corner: Corner) -> TightestCorner {
    TightestCorner {
        x_mm: corner.middle.x,
        y_mm: corner.middle.y,
        radius_mm: corner.radius,
        angle_deg: corner.angle.to_degrees(),
    }
}

/// The survey as a person reads it.
fn spoken(survey: &Survey, name: &str) -> String {
    let from = match survey.units_from {
        UnitsFrom::Drawing => "stated by the drawing",
        UnitsFrom::Option => "by the option",
        UnitsFrom::Assumed => "assumed: the drawing states none",
    };
    let mut out = format!(
        "{name}: units {}, {from}; ends closer than {} joined; lengths below in mm\n",
        survey.units.as_str(),
        survey.join_limit_mm
    );
    out.push_str("  outline  inside  layer         width     height       area  largest circle  narrowest  tightest inside corner\n");
    for one in &survey.outlines {
        let [x0, y0, x1, y1] = one.bounds_mm;
        let tightest =
            one.tightest_inside_corner.map_or("none".to_owned(), |corner| match corner.radius_mm {
                0.0 => format!("sharp, {:.1} deg", corner.angle_deg),
                radius => format!("radius {radius:.4}"),
            });
        let narrowest = one.narrowest.map_or("none".to_owned(), |place| format!("{:.4}", place.width_mm));
        out.push_str(&format!(
            "  {:<7}  {:<6}  {:<10} {:>8.4}  {:>9.4}  {:>9.4}  {:>14.4}  {narrowest:>9}  {tightest}\n",
            one.id,
            one.inside_of.as_deref().unwrap_or("-"),
            one.layer,
            x1 - x0,
            y1 - y0,
            one.area_mm2,
            one.largest_circle.diameter_mm
        ));
    }
    for (kind, one, more) in [
        (FittedKind::Spline, "spline", "splines"),
        (FittedKind::Ellipse, "ellipse", "ellipses"),
        (FittedKind::Facets, "arc drawn in facets", "arcs drawn in facets"),
    ] {
        let deviations = survey.fitted.iter().filter(|one| one.kind == kind).map(|one| one.deviation_mm);
        let (count, most) =
            deviations.fold((0, 0.0), |(count, most), deviation| (count + 1, f64::max(most, deviation)));
        if count > 0 {
            let name = if count == 1 { one } else { more };
            out.push_str(&format!("  arcs stand for: {count} {name}, within {most:.5}\n"));
        }
    }
    for (kind, count) in &survey.skipped {
        out.push_str(&format!("  passed over: {count} {kind}\n"));
    }
    out
}
