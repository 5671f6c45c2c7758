package org.layroom.dashboard.answer;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.layroom.dashboard.quantity.Quantities;
import org.layroom.predictor.calibration.Calibration;
import org.layroom.predictor.calibration.GelTest;
import org.layroom.predictor.cure.TemperatureOutlook;
import org.layroom.predictor.hardening.Hardening;
import org.layroom.predictor.hardening.Outcome;
import org.layroom.predictor.hardening.PartOutcome;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialKind;
import org.layroom.predictor.mix.AgedTemperature;
import org.layroom.predictor.mix.Amount;
import org.layroom.predictor.mix.CatalystBottle;
import org.layroom.predictor.mix.DoseRequest;
import org.layroom.predictor.mix.LayupQuantities;
import org.layroom.predictor.mix.MixQuestion;
import org.layroom.predictor.mix.MixTemperatures;
import org.layroom.predictor.mix.PartHistory;
import org.layroom.predictor.mix.Pass;
import org.layroom.predictor.mix.ShopTools;
import org.layroom.predictor.verdict.Condition;
import org.layroom.predictor.verdict.Conditions;
import org.layroom.predictor.verdict.MixCheck;
import org.layroom.predictor.verdict.Verdict;

/**
 * A mix question as it was typed: field by field, each with its unit. The same fields serve the
 * command line and HTTP.
 */
public final class MixFields {
  /** Every field there is, as options and request parameters name them. */
  public static final Set<String> NAMES =
      Set.of(
          "amount",
          "area",
          "film",
          "mat",
          "layers",
          "thickness",
          "mold-kind",
          "resin-to-glass",
          "waste",
          "mold-temp",
          "resin-temp",
          "air-temp",
          "humidity",
          "mold-wet",
          "working-time",
          "dose",
          "gel-test",
          "outcome",
          "place",
          "syringe-step",
          "pace",
          "largest-cup",
          "bottle-open",
          "bottle-undated",
          "bottle-expired",
          "bottle-test");

  private final Material material;
  private final TypedFields fields;

  private MixFields(Material material, Map<String, List<String>> fields) {
    this.material = material;
    this.fields = new TypedFields(fields);
  }

  /** What became of the fields: a question with what is laid up, or why not. */
  public record Parsed(
      Optional<MixQuestion> question, Optional<LayupQuantities> layup, List<Refusal> refused) {
    public Parsed {
      refused = List.copyOf(refused);
    }
  }

  /** What gel tests and parts have taught of a can. */
  public interface Taught {
    /**
     * The can with its tests.
     *
     * @throws InvalidMaterial when its table of gel times contradicts itself
     */
    Calibration of(Material material) throws InvalidMaterial;

    /** When parts of a can are hard, with what became of earlier parts. */
    default Hardening hardening(Material material) {
      return material.hardening();
    }
  }

  /**
   * What is known besides the fields.
   *
   * @param measured what sensors say, used where no temperature was typed
   * @param outlook how warm the mold will be, where that is known
   * @param check the mix check of a room that is watched; without one, of what was typed
   * @param taught what the can's gel tests have taught
   * @param outcomes what became of this shop's parts
   */
  public record Known(
      MixTemperatures measured,
      Optional<TemperatureOutlook> outlook,
      Optional<Verdict> check,
      Taught taught,
      List<PartOutcome> outcomes) {}

  /**
   * Reads the fields.
   *
   * @param fields name to values; only gel tests and outcomes may have several
   */
  public static Parsed parse(Material material, Map<String, List<String>> fields, Known known) {
    return new MixFields(material, fields).parse(known);
  }

  private Parsed parse(Known known) {
    Optional<LayupQuantities> layup = layup();
    Optional<Amount> amount = amount(layup);
    MixTemperatures temperatures = temperatures(known.measured(), known.outlook());
    DoseRequest want = want();
    Optional<Calibration> calibration = calibration(known.taught());
    ShopTools tools = tools();
    CatalystBottle bottle = bottle();
    Pass pass = new TypedPass(fields).pass();
    PartHistory history = history(known.outcomes());
    Optional<Verdict> room = known.check().or(() -> typedCheck(temperatures));
    List<Refusal> refusals = fields.refusals();
    if (!refusals.isEmpty() || amount.isEmpty() || calibration.isEmpty()) {
      return new Parsed(Optional.empty(), layup, refusals);
    }
    MixQuestion question =
        MixQuestion.of(material, calibration.get(), amount.get())
            .wanting(want)
            .at(temperatures)
            .from(bottle)
            .into(pass)
            .with(tools)
            .knowing(history);
    return new Parsed(room.map(question::in).or(() -> Optional.of(question)), layup, List.of());
  }

  private Optional<LayupQuantities> layup() {
    Optional<Double> area = fields.field("area", Quantities::squareMeters);
    if (area.isEmpty()) {
      return Optional.empty();
    }
    boolean coat = material.kind() != MaterialKind.LAMINATING_RESIN;
    double film = fields.field("film", Quantities::millimeters).orElse(coat ? 0.5 : 0.0);
    TypedPass pass = new TypedPass(fields);
    int layers = pass.layers().orElse(coat ? 0 : 2);
    double mat = pass.matGPerM2();
    double ratio = fields.field("resin-to-glass", Quantities::number).orElse(2.25);
    double waste = fields.field("waste", Quantities::percent).orElse(10.0);
    return fields.parsed(
        "area",
        fields.values("area").get(0),
        text ->
            LayupQuantities.of(
                new LayupQuantities.Layup(
                    area.get(),
                    film,
                    material.densityKgPerLOrTypical(),
                    mat,
                    layers,
                    ratio,
                    waste)));
  }

  private Optional<Amount> amount(Optional<LayupQuantities> layup) {
    Optional<Amount> amount = fields.field("amount", Quantities::amount);
    if (amount.isPresent()) {
      return amount;
    }
    if (layup.isEmpty()) {
      if (!fields.has("amount") && !fields.has("area")) {
        fields.refuse(
            "amount", "missing", "Enter how much: an amount such as 200ml or 0.5kg, or an area.");
      }
      return Optional.empty();
    }
    double grams =
        material.kind() == MaterialKind.LAMINATING_RESIN
            ? layup.get().resinGrams()
            : layup.get().gelCoatGrams();
    return fields.parsed("area", grams + " g", text -> new Amount.Grams(grams));
  }

  private MixTemperatures temperatures(
      MixTemperatures measured, Optional<TemperatureOutlook> outlook) {
    MixTemperatures result = measured;
    Optional<AgedTemperature> mold =
        fields.field("mold-temp", text -> AgedTemperature.typed(Quantities.celsius(text)));
    Optional<AgedTemperature> resin =
        fields.field("resin-temp", text -> AgedTemperature.typed(Quantities.celsius(text)));
    if (mold.isPresent()) {
      result = MixTemperatures.unknown().withMold(mold.get());
      result = measured.resin().map(result::withResin).orElse(result);
    }
    result = resin.map(result::withResin).orElse(result);
    return outlook.map(result::withMoldOutlook).orElse(result);
  }

  /** Moisture of the room, where humidity, air or a wet mold were typed. */
  private Optional<Verdict> typedCheck(MixTemperatures temperatures) {
    Optional<Double> air = fields.field("air-temp", Quantities::celsius);
    Optional<Double> humidity = fields.field("humidity", Quantities::percent);
    boolean wet = fields.field("mold-wet", text -> text).isPresent();
    if (air.isEmpty() && humidity.isEmpty() && !wet) {
      return Optional.empty();
    }
    return fields.parsed(
        "humidity",
        humidity.map(String::valueOf).orElse(""),
        text -> {
          Conditions conditions = Conditions.nothingKnown().withMoldWet(wet);
          conditions = air.map(Condition::typed).map(conditions::withAirC).orElse(conditions);
          conditions =
              humidity.map(Condition::typed).map(conditions::withHumidityPct).orElse(conditions);
          conditions =
              temperatures
                  .mold()
                  .map(mold -> new Condition(mold.temperatureC(), mold.age()))
                  .map(conditions::withMoldC)
                  .orElse(conditions);
          return MixCheck.check(Optional.of(material), conditions);
        });
  }

  private DoseRequest want() {
    Optional<DoseRequest> dose = fields.field("dose", Quantities::dose);
    Optional<DoseRequest> time =
        fields.field(
            "working-time",
            text -> new DoseRequest.WorkingTime(Quantities.span(text).toMillis() / 60_000.0));
    if (dose.isPresent() && time.isPresent()) {
      fields.refuse("dose", "", "Enter either a working time or a dose, not both.");
    }
    return dose.or(() -> time).orElse(new DoseRequest.SheetGelTime());
  }

  private Optional<Calibration> calibration(Taught taught) {
    try {
      Calibration calibration = taught.of(material);
      for (String text : fields.values("gel-test")) {
        Optional<GelTest> test = fields.parsed("gel-test", text, MixFields::gelTest);
        if (test.isPresent()) {
          calibration = calibration.with(test.get());
        }
      }
      return Optional.of(calibration);
    } catch (InvalidMaterial e) {
      e.problems()
          .forEach(p -> fields.refuse(new Refusal(p.field(), p.value(), p.limit(), p.reason())));
      return Optional.empty();
    }
  }

  /** A gel test written as {@code cup,20C,1.5%,22min} or {@code layer,20C,1.5%,30min}. */
  private static GelTest gelTest(String text) {
    String[] parts = text.split(",", -1);
    if (parts.length != 4 || !Set.of("cup", "layer").contains(parts[0].strip())) {
      throw new IllegalArgumentException(
          "\"" + text + "\": enter where, temperature, dose and minutes: cup,20C,1.5%,22min");
    }
    return new GelTest(
        parts[0].strip().equals("cup") ? GelTest.Where.CUP : GelTest.Where.THIN_LAYER,
        Quantities.celsius(parts[1]),
        Quantities.dosePct(parts[2]),
        Quantities.span(parts[3]).toMillis() / 60_000.0);
  }

  private PartHistory history(List<PartOutcome> recorded) {
    List<Outcome> alike = new ArrayList<>();
    for (String text : fields.values("outcome")) {
      fields.parsed("outcome", text, TypedOutcome::parse).ifPresent(alike::add);
    }
    return new PartHistory(recorded, alike);
  }

  private ShopTools tools() {
    ShopTools usual = ShopTools.usual();
    double step =
        fields.field("syringe-step", Quantities::milliliters).orElse(usual.syringeStepMl());
    double pace =
        fields
            .field("pace", text -> Quantities.kilograms(text) * 1000)
            .orElse(usual.paceGramsPerMinute());
    double cup =
        fields
            .field("largest-cup", text -> Quantities.amount(text).grams(material))
            .orElse(usual.largestCupGrams());
    return fields
        .parsed("tools", step + " ml", text -> new ShopTools(step, pace, cup))
        .orElse(usual);
  }

  private CatalystBottle bottle() {
    boolean undated = fields.field("bottle-undated", text -> text).isPresent();
    boolean expired = fields.field("bottle-expired", text -> text).isPresent();
    CatalystBottle.Tested tested =
        fields
            .field(
                "bottle-test",
                text ->
                    switch (text) {
                      case "gelled" -> CatalystBottle.Tested.GELLED;
                      case "failed" -> CatalystBottle.Tested.FAILED;
                      default ->
                          throw new IllegalArgumentException(
                              "\"" + text + "\": enter gelled or failed");
                    })
            .orElse(CatalystBottle.Tested.NOT_TESTED);
    return new CatalystBottle(
        !undated, expired, fields.field("bottle-open", Quantities::span), tested);
  }
}
