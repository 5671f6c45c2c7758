package org.layroom.dashboard.answer;

import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.layroom.dashboard.quantity.Quantities;
import org.layroom.predictor.cure.HardeningClock;
import org.layroom.predictor.cure.TemperaturePath;
import org.layroom.predictor.hardening.Outcome;
import org.layroom.predictor.hardening.PartAge;

/**
 * What became of a part as it is typed: what was found, how long after mixing, and how warm the
 * mold was, {@code soft,8h,20C}; a hardness reading with its number, {@code barcol 35,24h,20C}.
 */
final class TypedOutcome {
  private static final Pattern BARCOL = Pattern.compile("barcol\\s*(\\d+(?:\\.\\d+)?)");

  private TypedOutcome() {}

  static Outcome parse(String text) {
    String[] parts = text.split(",", -1);
    if (parts.length != 3) {
      throw wanted(text);
    }
    double minutes = Quantities.span(parts[1]).toMillis() / 60_000.0;
    double moldC = Quantities.celsius(parts[2]);
    if (!(minutes > 0 && moldC > 0 && moldC <= 60)) {
      throw wanted(text);
    }
    PartAge age = HardeningClock.age(TemperaturePath.constant(moldC), minutes);
    String what = parts[0].strip().toLowerCase(Locale.ROOT);
    Matcher barcol = BARCOL.matcher(what);
    if (barcol.matches()) {
      return Outcome.barcol(Double.parseDouble(barcol.group(1)), age);
    }
    return Outcome.Kind.of(what)
        .filter(kind -> kind != Outcome.Kind.BARCOL)
        .map(kind -> Outcome.of(kind, age))
        .orElseThrow(() -> wanted(text));
  }

  private static IllegalArgumentException wanted(String text) {
    return new IllegalArgumentException(
        "\""
            + text
            + "\": enter what was found, how long after mixing and the mold's temperature (over 0,"
            + " up to 60 °C): soft,8h,20C; one of "
            + Outcome.Kind.ids().replace("barcol", "barcol 35"));
  }
}
