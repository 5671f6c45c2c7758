package org.layroom.predictor.emission;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.TreeSet;
import org.layroom.predictor.exposure.RollingAverage;

/**
 * Vapor in a well-mixed box over time, in closed form: in each stretch of constant emission {@code
 * C(t) = Css + (C0 - Css) e^(-a t)}, {@code Css = G / Q}, {@code a = Q / V}, with {@code C = C0 + G
 * t / V} where no air is changed. Exact, whatever the stretches; the last one goes on for ever
 * without a source. A second course, near the work, adds {@code G / beta} while the source gives
 * off. Cost: a few exponentials per stretch.
 */
final class BoxModel {
  /** One stretch: hours from the start, and emission, g/h. */
  record Stretch(double hours, double gramsPerHour) {
    Stretch {
      if (!(hours >= 0 && hours < Double.POSITIVE_INFINITY)) {
        throw new IllegalArgumentException("stretch of " + hours + " h must be zero or longer");
      }
      if (!(gramsPerHour >= 0 && gramsPerHour < Double.POSITIVE_INFINITY)) {
        throw new IllegalArgumentException("emission " + gramsPerHour + " g/h must be 0 or more");
      }
    }
  }

  /** {@code level + slope t + swing e^(-a t)} from {@code from} on, t from there. */
  private record Piece(
      double from, double to, double level, double slope, double swing, double atFrom) {}

  private static final double WINDOW = RollingAverage.SHORT_TERM.toSeconds() / 3600.0;

  /** Below this, air changes make no difference within a day, and the closed form loses digits. */
  private static final double STILL = 1e-9;

  private final double decay;
  private final List<Piece> pieces = new ArrayList<>();

  /**
   * A course.
   *
   * @param volumeM3 the box
   * @param effectivePerHour air changes that count, per hour
   * @param milligramsInOnePpm mg/m3 in one ppm
   * @param start ppm at the beginning
   * @param nearM3PerH beta, the air flow around the work; infinite for the room itself
   */
  BoxModel(
      double volumeM3,
      double effectivePerHour,
      double milligramsInOnePpm,
      double start,
      double nearM3PerH,
      List<Stretch> stretches) {
    decay = effectivePerHour < STILL ? 0 : effectivePerHour;
    double from = 0;
    double now = start;
    for (Stretch stretch : stretches) {
      double rate = 1000 * stretch.gramsPerHour() / volumeM3 / milligramsInOnePpm;
      double near = 1000 * stretch.gramsPerHour() / nearM3PerH / milligramsInOnePpm;
      Piece piece = piece(from, from + stretch.hours(), now, rate, near);
      pieces.add(piece);
      from = piece.to();
      now = value(piece, from) - near;
    }
    pieces.add(piece(from, Double.POSITIVE_INFINITY, now, 0, 0));
  }

  private Piece piece(double from, double to, double now, double rate, double near) {
    if (decay == 0) {
      return new Piece(from, to, now + near, rate, 0, now);
    }
    double steady = rate / decay;
    return new Piece(from, to, steady + near, 0, now - steady, now);
  }

  private double value(Piece piece, double hours) {
    double t = hours - piece.from();
    double swing = piece.swing() == 0 ? 0 : piece.swing() * StrictMath.exp(-decay * t);
    return piece.level() + piece.slope() * t + swing;
  }

  /** ppm after a number of hours; before the start none. At a jump the value after it. */
  double at(double hours) {
    return hours < 0 ? 0 : value(pieceAt(hours), hours);
  }

  private Piece pieceAt(double hours) {
    Piece found = pieces.get(0);
    for (Piece piece : pieces) {
      if (piece.from() <= hours) {
        found = piece;
      }
    }
    return found;
  }

  /** The largest value, ppm; each piece runs one way, so it stands at an end of one. */
  double peak() {
    return at(peakHours(), true);
  }

  /** When the largest value is reached, hours from the start. */
  double peakHours() {
    double when = 0;
    double largest = at(0);
    for (Piece piece : pieces.subList(0, pieces.size() - 1)) {
      for (double end : new double[] {piece.from(), piece.to()}) {
        if (value(piece, end) > largest) {
          largest = value(piece, end);
          when = end;
        }
      }
    }
    return when;
  }

  private double at(double hours, boolean larger) {
    double found = at(hours);
    if (larger) {
      for (Piece piece : pieces) {
        if (piece.to() == hours) {
          found = Math.max(found, value(piece, hours));
        }
      }
    }
    return found;
  }

  /** ppm x hours from the start. */
  double dose(double untilHours) {
    double sum = 0;
    for (Piece piece : pieces) {
      if (piece.from() < untilHours) {
        sum += area(piece, Math.min(piece.to(), untilHours) - piece.from());
      }
    }
    return sum;
  }

  private double area(Piece piece, double hours) {
    double swing = piece.swing() == 0 ? 0 : -piece.swing() / decay * Math.expm1(-decay * hours);
    return piece.level() * hours + piece.slope() * hours * hours / 2 + swing;
  }

  /**
   * The largest mean of any quarter of an hour, ppm; before the start the air is clean. The mean is
   * largest where the values at both ends of the window are equal or where one of them jumps or
   * turns, and between two such places the ends differ by one exponential: found in closed form.
   */
  double largestQuarterHourMean() {
    TreeSet<Double> turns = new TreeSet<>();
    turns.add(WINDOW);
    for (Piece piece : pieces) {
      turns.add(piece.from());
      turns.add(piece.from() + WINDOW);
    }
    double largest = 0;
    double before = 0;
    for (double turn : turns) {
      largest = Math.max(largest, mean(turn));
      OptionalDouble between = level(before, turn);
      if (between.isPresent()) {
        largest = Math.max(largest, mean(between.getAsDouble()));
      }
      before = turn;
    }
    return largest;
  }

  private double mean(double end) {
    return (dose(end) - dose(end - WINDOW)) / WINDOW;
  }

  /** Where in an interval without a turn both ends of the window read the same. */
  private OptionalDouble level(double from, double to) {
    double first = difference(from, from + (to - from) / 2);
    double last = difference(to, from + (to - from) / 2);
    if (!(first > 0 && last < 0)) {
      return OptionalDouble.empty();
    }
    double share = first / (first - last);
    if (decay == 0) {
      return OptionalDouble.of(from + share * (to - from));
    }
    double fade = Math.expm1(-decay * (to - from));
    return OptionalDouble.of(from - StrictMath.log(1 + share * fade) / decay);
  }

  /** The window's two ends compared, both on the pieces that hold around {@code inside}. */
  private double difference(double end, double inside) {
    double newest = value(pieceAt(inside), end);
    double oldest = inside < WINDOW ? 0 : value(pieceAt(inside - WINDOW), end - WINDOW);
    return newest - oldest;
  }

  /**
   * When the air has come down to a level for good, hours from the start: zero where it never rises
   * above, and empty where it never comes down.
   */
  OptionalDouble clearedHours(double ppm) {
    Piece last = pieces.get(pieces.size() - 1);
    if (last.atFrom() > ppm) {
      return decay == 0 || ppm <= 0
          ? OptionalDouble.empty()
          : OptionalDouble.of(last.from() + StrictMath.log(last.atFrom() / ppm) / decay);
    }
    for (int i = pieces.size() - 2; i >= 0; i--) {
      Piece piece = pieces.get(i);
      double end = value(piece, piece.to());
      if (end > ppm) {
        return OptionalDouble.of(piece.to());
      }
      if (value(piece, piece.from()) > ppm) {
        double share = (ppm - piece.level()) / piece.swing();
        return OptionalDouble.of(piece.from() - StrictMath.log(share) / decay);
      }
    }
    return OptionalDouble.of(0);
  }
}
