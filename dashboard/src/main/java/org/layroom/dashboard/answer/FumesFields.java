package org.layroom.dashboard.answer;

import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Stream;
import org.layroom.dashboard.quantity.Quantities;
import org.layroom.predictor.cure.ClockInputs;
import org.layroom.predictor.cure.CureClocks;
import org.layroom.predictor.cure.Stage;
import org.layroom.predictor.cure.TemperatureOutlook;
import org.layroom.predictor.emission.AirChanges;
import org.layroom.predictor.emission.EmissionRule;
import org.layroom.predictor.emission.Layup;
import org.layroom.predictor.emission.LayupAir;
import org.layroom.predictor.emission.VentilatedRoom;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialKind;

/**
 * A question about the air of a layup as it was typed: field by field, each with its unit. The same
 * fields serve the command line and HTTP.
 */
public final class FumesFields {
  /** Every field there is, as options and request parameters name them. */
  public static final Set<String> NAMES =
      Set.of(
          "resin",
          "styrene",
          "gel-coat",
          "gel-coat-styrene",
          "method",
          "area",
          "volume",
          "air-changes",
          "fan",
          "door",
          "working-time",
          "gel-time",
          "dose",
          "mold-temp",
          "mixing",
          "air-temp",
          "near-air",
          "limit");

  /** Air temperature where nothing else is known, degC. */
  private static final double USUAL_AIR_C = 20;

  /** Beyond this no cure clock is asked: the layup itself is refused then. */
  private static final double COLDEST_CLOCK_C = 10;

  private static final double HOTTEST_CLOCK_C = 35;

  /**
   * What is known of the room and the can without being typed.
   *
   * @param material whose styrene content and gel clock stand in
   * @param mixing K; 1 where the air changes were measured in this room, which holds its mixing
   * @param airC as measured now
   * @param moldC as measured now
   * @param limit the one the user has chosen
   * @param taught what the can's gel tests have taught
   */
  public record Known(
      Optional<Material> material,
      OptionalDouble volumeM3,
      Optional<AirChanges> airChanges,
      OptionalDouble mixing,
      OptionalDouble airC,
      OptionalDouble moldC,
      ExposureLimit limit,
      MixFields.Taught taught) {
    /** Nothing but, perhaps, the can, with what its gel tests have taught. */
    public static Known of(Optional<Material> material, MixFields.Taught taught) {
      return new Known(
          material,
          OptionalDouble.empty(),
          Optional.empty(),
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          ExposureLimit.untilChosen(),
          taught);
    }

    /** With what is kept of the room; measured air changes hold the room's own mixing. */
    Known in(OptionalDouble volume, Optional<Double> measuredPerHour, ExposureLimit chosen) {
      return new Known(
          material,
          volume,
          measuredPerHour.map(AirChanges::measured),
          measuredPerHour.isPresent() ? OptionalDouble.of(1) : OptionalDouble.empty(),
          airC,
          moldC,
          chosen,
          taught);
    }
  }

  /** A question that can be answered. */
  record Question(
      VentilatedRoom room, Layup layup, ExposureLimit limit, double nearM3PerMin, String gel) {}

  private final TypedFields fields;
  private final Known known;
  private String gelWords = "as entered";

  private FumesFields(Map<String, List<String>> fields, Known known) {
    this.fields = new TypedFields(fields);
    this.known = known;
  }

  /** A question, or why there is none. */
  record Parsed(Optional<Question> question, List<Refusal> refused) {}

  static Parsed parse(Map<String, List<String>> fields, Known known) {
    return new FumesFields(fields, known).parse();
  }

  private Parsed parse() {
    Optional<Double> volume = volume();
    Optional<VentilatedRoom> room = volume.flatMap(this::room);
    Optional<Layup> layup = layup();
    Optional<ExposureLimit> limit =
        fields.has("limit")
            ? fields.field("limit", FumesFields::limit)
            : Optional.of(known.limit());
    double near =
        fields
            .field(
                "near-air",
                text -> within(text, Quantities.cubicMetersPerMinute(text), 1, 100, "m3/min"))
            .orElse(LayupAir.USUAL_NEAR_M3_PER_MIN);
    if (!fields.refusals().isEmpty() || room.isEmpty() || layup.isEmpty() || limit.isEmpty()) {
      return new Parsed(Optional.empty(), fields.refusals());
    }
    return new Parsed(
        Optional.of(new Question(room.get(), layup.get(), limit.get(), near, gelWords)), List.of());
  }

  private static double within(String text, double value, double least, double most, String unit) {
    if (!(value >= least && value <= most)) {
      throw new IllegalArgumentException(
          "%s must be between %.0f and %.0f %s".formatted(text, least, most, unit));
    }
    return value;
  }

  private Optional<Double> volume() {
    return fields
        .needed(
            "volume",
            Quantities::cubicMeters,
            boxed(known.volumeM3()),
            "Enter the room size: volume, such as 40m3 (length x width x height).")
        .flatMap(
            m3 ->
                fields.parsed(
                    "volume",
                    m3 + " m3",
                    text -> new VentilatedRoom(m3, AirChanges.given(0), 1, 20)))
        .map(VentilatedRoom::volumeM3);
  }

  private Optional<VentilatedRoom> room(double volumeM3) {
    Optional<AirChanges> changes = airChanges(volumeM3);
    boolean roomsOwn = changes.isPresent() && changes.equals(known.airChanges());
    double usualMixing =
        roomsOwn ? known.mixing().orElse(VentilatedRoom.USUAL_MIXING) : VentilatedRoom.USUAL_MIXING;
    double mixing =
        fields
            .field("mixing", text -> within(text, Quantities.number(text), 1, 10, ""))
            .orElse(usualMixing);
    double airC = airC().orElse(USUAL_AIR_C);
    return changes.map(aired -> new VentilatedRoom(volumeM3, aired, mixing, airC));
  }

  /** As typed, else as measured; empty where nobody knows it. */
  private Optional<Double> airC() {
    return fields
        .field("air-temp", text -> within(text, Quantities.celsius(text), -20, 60, "degC"))
        .or(() -> boxed(known.airC()));
  }

  private Optional<AirChanges> airChanges(double volumeM3) {
    List<String> given = Stream.of("air-changes", "fan", "door").filter(fields::has).toList();
    if (given.size() > 1) {
      fields.refuse(given.get(1), "", "Give only one of air-changes, fan and door.");
      return Optional.empty();
    }
    if (given.isEmpty() && known.airChanges().isEmpty()) {
      fields.refuse(
          "air-changes",
          "missing",
          "Enter the ventilation: air-changes such as 6 (per hour), fan with its printed flow"
              + " such as 300m3/h, or door as shut, ajar, open or fan.");
    }
    return fields
        .<AirChanges>field("air-changes", text -> AirChanges.given(Quantities.perHour(text)))
        .or(
            () ->
                fields.field(
                    "fan", text -> AirChanges.fan(Quantities.cubicMetersPerHour(text), volumeM3)))
        .or(() -> fields.field("door", FumesFields::door))
        .or(() -> given.isEmpty() ? known.airChanges() : Optional.empty());
  }

  private static AirChanges door(String text) {
    return switch (text) {
      case "shut" -> AirChanges.Guess.SHUT;
      case "ajar" -> AirChanges.Guess.AJAR;
      case "open" -> AirChanges.Guess.OPEN;
      case "fan" -> AirChanges.Guess.FAN;
      default ->
          throw new IllegalArgumentException(
              "\"" + text + "\": enter shut, ajar, open or fan (a fan of unknown flow)");
    };
  }

  private Optional<Layup> layup() {
    boolean coatAlone = fields.has("gel-coat") && !fields.has("resin");
    Optional<Layup.Batch> gelCoat = gelCoat();
    Optional<Layup.Batch> resin = coatAlone ? gelCoat : resin();
    Optional<Duration> working =
        fields.needed(
            "working-time",
            FumesFields::workingTime,
            Optional.empty(),
            "Enter how long you will be applying it: working-time, such as 30min.");
    Optional<Duration> gel = working.flatMap(this::gelTime);
    Optional<Double> area = fields.field("area", Quantities::squareMeters);
    if (resin.isEmpty() || working.isEmpty() || gel.isEmpty()) {
      return Optional.empty();
    }
    Optional<Layup> layup =
        fields.parsed(
            "gel-time",
            gel.get().toMinutes() + " min",
            text -> Layup.of(resin.get(), working.get(), gel.get()));
    if (gelCoat.isPresent() && !coatAlone) {
      layup = layup.map(one -> one.withGelCoat(gelCoat.get()));
    }
    if (area.isPresent()) {
      layup =
          layup.flatMap(
              one -> fields.parsed("area", area.get() + " m2", text -> one.withArea(area.get())));
    }
    Optional<Double> airC = airC();
    return airC.isPresent() ? layup.map(one -> one.inAirOf(airC.get())) : layup;
  }

  private static Duration workingTime(String text) {
    Duration working = Quantities.span(text);
    if (working.isZero() || working.compareTo(Duration.ofHours(24)) > 0) {
      throw new IllegalArgumentException(text + " must be above 0 and at most 24 h");
    }
    return working;
  }

  private Optional<Layup.Batch> resin() {
    Optional<Double> kg =
        fields.needed(
            "resin",
            Quantities::kilograms,
            Optional.empty(),
            "Enter how much resin you will apply: resin, such as 2kg.");
    Optional<Double> styrene =
        fields.needed(
            "styrene",
            Quantities::percent,
            known
                .material()
                .filter(can -> can.kind() != MaterialKind.GEL_COAT)
                .flatMap(can -> boxed(can.styrenePct())),
            "Enter the styrene content of the resin: styrene, such as 42% (see its safety data"
                + " sheet).");
    EmissionRule rule =
        fields.field("method", FumesFields::method).orElse(EmissionRule.RESIN_BY_HAND);
    if (kg.isEmpty() || styrene.isEmpty()) {
      return Optional.empty();
    }
    return batch("resin", "styrene", kg.get(), styrene.get(), rule);
  }

  private static EmissionRule method(String text) {
    return switch (text) {
      case "by-hand" -> EmissionRule.RESIN_BY_HAND;
      case "not-atomized" -> EmissionRule.RESIN_NOT_ATOMIZED;
      default ->
          throw new IllegalArgumentException(
              "\"" + text + "\": enter by-hand (brush and roller) or not-atomized (flow coater)");
    };
  }

  private Optional<Layup.Batch> gelCoat() {
    Optional<Double> kg = fields.field("gel-coat", Quantities::kilograms);
    if (kg.isEmpty()) {
      return Optional.empty();
    }
    Optional<Double> styrene =
        fields.needed(
            "gel-coat-styrene",
            Quantities::percent,
            known
                .material()
                .filter(can -> can.kind() == MaterialKind.GEL_COAT)
                .flatMap(can -> boxed(can.styrenePct())),
            "Enter the styrene content of the gel coat: gel-coat-styrene, such as 33%.");
    return styrene.flatMap(
        pct ->
            batch("gel-coat", "gel-coat-styrene", kg.get(), pct, EmissionRule.GEL_COAT_ANY_METHOD));
  }

  private Optional<Layup.Batch> batch(
      String kgField, String pctField, double kg, double pct, EmissionRule rule) {
    Optional<Layup.Batch> weighed =
        fields.parsed(kgField, kg + " kg", text -> new Layup.Batch(kg, 0, rule));
    Optional<Layup.Batch> whole =
        fields.parsed(pctField, pct + " %", text -> new Layup.Batch(1, pct, rule));
    return weighed.isPresent() && whole.isPresent()
        ? Optional.of(new Layup.Batch(kg, pct, rule))
        : Optional.empty();
  }

  /** As typed; else by the cure clock of the can at this dose and mold temperature. */
  private Optional<Duration> gelTime(Duration working) {
    if (fields.has("gel-time")) {
      return fields.field("gel-time", Quantities::span);
    }
    Optional<Double> mold =
        fields.field("mold-temp", Quantities::celsius).or(() -> boxed(known.moldC()));
    Optional<Double> dose = fields.field("dose", Quantities::dosePct);
    if (known.material().isEmpty() || mold.isEmpty()) {
      fields.refuse(
          "gel-time",
          "missing",
          "Enter when it gels: gel-time, such as 75min from the start; or material and"
              + " mold-temp to predict it.");
      return Optional.empty();
    }
    return fields.parsed(
        "mold-temp",
        mold.get() + " degC",
        text -> filmGel(known.material().get(), dose, mold.get(), working));
  }

  private Duration filmGel(Material can, Optional<Double> dose, double moldC, Duration working) {
    if (can.kind() != MaterialKind.LAMINATING_RESIN) {
      throw new IllegalArgumentException(can.name() + " is not a laminating resin; enter gel-time");
    }
    within(moldC + " degC", moldC, COLDEST_CLOCK_C, HOTTEST_CLOCK_C, "degC");
    double dosePct = dose.orElse(can.gel().doseByWeightPct());
    try {
      TemperatureOutlook mold = TemperatureOutlook.constant(moldC);
      double minutes =
          CureClocks.stages(
                  ClockInputs.forJob(can, known.taught().of(can).belief(), dosePct, mold, mold))
              .stream()
              .filter(stage -> stage.stage() == Stage.FILM_GEL)
              .mapToDouble(stage -> stage.fromMinutes().p50())
              .findFirst()
              .orElseThrow();
      gelWords =
          "predicted for %s at %.1f °C and %.2f %%, from the last cup"
              .formatted(can.name(), moldC, dosePct);
      return working.plus(Duration.ofSeconds(Math.round(minutes * 60)));
    } catch (InvalidMaterial e) {
      throw new IllegalArgumentException(e.getMessage(), e);
    }
  }

  private static ExposureLimit limit(String text) {
    Optional<ExposureLimit> listed = ExposureLimit.byId(text);
    if (listed.isPresent()) {
      return listed.get();
    }
    try {
      return ExposureLimit.own(Quantities.ppm(text));
    } catch (IllegalArgumentException e) {
      throw new IllegalArgumentException(
          e.getMessage()
              + "; or one of "
              + String.join(", ", ExposureLimit.table().stream().map(ExposureLimit::id).toList()),
          e);
    }
  }

  private static Optional<Double> boxed(OptionalDouble value) {
    return value.isPresent() ? Optional.of(value.getAsDouble()) : Optional.empty();
  }
}
