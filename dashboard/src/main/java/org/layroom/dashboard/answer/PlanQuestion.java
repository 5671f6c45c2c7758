package org.layroom.dashboard.answer;

import java.time.DateTimeException;
import java.time.Duration;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.dashboard.quantity.Quantities;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialKind;
import org.layroom.predictor.room.plan.PlanStep;
import org.layroom.predictor.room.plan.WakingHours;
import org.layroom.predictor.vapor.VocLevel;

/**
 * A plan question as it was typed, on the command line or over HTTP.
 *
 * @param materials in the order of work: gel coat, laminate, finish coat
 * @param chain their steps, in the same order
 * @param waking when someone is there
 * @param wantedMoldC what heating is to reach, degC
 * @param airing the fan or door, where it is known
 */
public record PlanQuestion(
    List<MaterialShelf.Entry> materials,
    List<PlanStep> chain,
    WakingHours waking,
    double wantedMoldC,
    Optional<Vapor> airing) {
  /** Every field there is, as options and request parameters name them. */
  public static final Set<String> NAMES =
      Set.of(
          "waking",
          "working-time",
          "dose",
          "wanted-mold-temp",
          "vapor",
          "vapor-wanted",
          "air-changes",
          "mixing");

  /** Vapor at which a room is no longer to be aired, times clean air. */
  public static final double CLEAR_LEVEL = VocLevel.RISE_FROM;

  private static final List<MaterialKind> ORDER =
      List.of(MaterialKind.GEL_COAT, MaterialKind.LAMINATING_RESIN, MaterialKind.FINISH_COAT);

  /**
   * Vapor to be cleared.
   *
   * @param levelNow in any unit
   * @param levelWanted in the same unit
   */
  public record Vapor(
      double levelNow, double levelWanted, double airChangesPerHour, double mixing) {}

  public PlanQuestion {
    materials = List.copyOf(materials);
    chain = List.copyOf(chain);
  }

  /** What became of the fields: a question, or why not. */
  public record Parsed(Optional<PlanQuestion> question, List<Refusal> refused) {
    public Parsed {
      refused = List.copyOf(refused);
    }
  }

  /**
   * Reads the fields.
   *
   * @param materials at least one, in any order
   * @param fields name to values
   * @param vaporNow vapor as the room's sensor shows it, times clean air
   * @param taught what the cans' gel tests have taught
   */
  public static Parsed parse(
      List<MaterialShelf.Entry> materials,
      Map<String, List<String>> fields,
      ZoneId zone,
      Optional<Double> vaporNow,
      MixFields.Taught taught) {
    return new Parser(fields, taught).parse(materials, zone, vaporNow);
  }

  /** Waking hours such as {@code 07:00-22:00}. */
  static WakingHours waking(String text, ZoneId zone) {
    String[] parts = text.split("-", -1);
    if (parts.length == 2) {
      try {
        return new WakingHours(
            LocalTime.parse(parts[0].strip()), LocalTime.parse(parts[1].strip()), zone);
      } catch (DateTimeException e) {
        // said below, with what is wanted instead
      }
    }
    throw new IllegalArgumentException("\"" + text + "\": enter waking hours such as 07:00-22:00");
  }

  private static final class Parser {
    private final Map<String, List<String>> fields;
    private final MixFields.Taught taught;
    private final List<Refusal> refused = new ArrayList<>();

    Parser(Map<String, List<String>> fields, MixFields.Taught taught) {
      this.fields = fields;
      this.taught = taught;
    }

    Parsed parse(List<MaterialShelf.Entry> materials, ZoneId zone, Optional<Double> vaporNow) {
      if (materials.isEmpty()) {
        refuse("material", "missing", "Enter a material, such as gp-resin.");
      }
      WakingHours waking =
          field("waking", text -> waking(text, zone)).orElseGet(() -> waking("07:00-22:00", zone));
      Duration handsOn = field("working-time", Quantities::span).orElse(Duration.ofMinutes(30));
      double wanted = field("wanted-mold-temp", Parser::moldC).orElse(20.0);
      Optional<Vapor> vapor = vapor(vaporNow);
      List<MaterialShelf.Entry> ordered =
          materials.stream()
              .sorted(Comparator.comparing(entry -> ORDER.indexOf(entry.material().kind())))
              .toList();
      List<PlanStep> chain = new ArrayList<>();
      for (MaterialShelf.Entry entry : ordered) {
        step(entry.material(), handsOn).ifPresent(chain::add);
      }
      return refused.isEmpty()
          ? new Parsed(
              Optional.of(new PlanQuestion(ordered, chain, waking, wanted, vapor)), refused)
          : new Parsed(Optional.empty(), refused);
    }

    private Optional<PlanStep> step(Material material, Duration handsOn) {
      double pct = field("dose", Quantities::dosePct).orElse(material.gel().doseByWeightPct());
      if (!material.doseByWeightPct().contains(pct)) {
        refuse(
            "dose",
            String.valueOf(pct),
            material.name()
                + " allows only another dose: leave out --dose, or enter one from "
                + material.doseByWeightPct().min()
                + " to "
                + material.doseByWeightPct().max()
                + " %.");
        return Optional.empty();
      }
      try {
        return Optional.of(
            PlanStep.of(material, taught.of(material).belief(), pct, handsOn)
                .hardening(taught.hardening(material)));
      } catch (InvalidMaterial e) {
        e.problems().forEach(p -> refuse(p.field(), p.value(), p.reason()));
        return Optional.empty();
      }
    }

    private Optional<Vapor> vapor(Optional<Double> measured) {
      Optional<Double> changes = field("air-changes", text -> above("air changes", text, 0, 200));
      Optional<Double> now =
          field("vapor", text -> above("vapor", text, 0, 1e6)).or(() -> measured);
      double wanted =
          field("vapor-wanted", text -> above("wanted vapor", text, 0, 1e6)).orElse(CLEAR_LEVEL);
      double mixing = field("mixing", text -> above("mixing factor", text, 0.999, 10)).orElse(3.0);
      if (changes.isEmpty() || now.isEmpty()) {
        return Optional.empty();
      }
      return Optional.of(new Vapor(now.get(), wanted, changes.get(), mixing));
    }

    private static double moldC(String text) {
      double value = Quantities.celsius(text);
      if (!(value >= 10 && value <= 35)) {
        throw new IllegalArgumentException(
            "wanted mold temperature " + text + " must be between 10 and 35 degC");
      }
      return value;
    }

    private static double above(String what, String text, double least, double most) {
      double value = Quantities.number(text);
      if (!(value > least && value <= most)) {
        throw new IllegalArgumentException(
            what + " " + text + " must be above " + Math.round(least) + " and at most " + most);
      }
      return value;
    }

    private <T> Optional<T> field(String name, Function<String, T> parsing) {
      List<String> values = fields.getOrDefault(name, List.of());
      if (values.isEmpty()) {
        return Optional.empty();
      }
      try {
        return Optional.of(parsing.apply(values.get(0)));
      } catch (IllegalArgumentException e) {
        refuse(name, values.get(0), String.valueOf(e.getMessage()));
        return Optional.empty();
      }
    }

    private void refuse(String field, String value, String words) {
      refused.add(new Refusal(field, value, "", words));
    }
  }
}
