package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.Writer;
import java.lang.ref.WeakReference;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
import org.layroom.dashboard.decision.AirSettings;
import org.layroom.dashboard.forecast.LearnedRooms;
import org.layroom.dashboard.material.GelTests;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.room.LiveValue;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.dashboard.store.DeviceRecord;
import org.layroom.device.telemetry.DeviceSettings;
import org.layroom.device.telemetry.DeviceStatus;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.calibration.Calibration;
import org.layroom.predictor.cure.TemperatureOutlook;
import org.layroom.predictor.hardening.Hardening;
import org.layroom.predictor.hardening.PartOutcome;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialKind;
import org.layroom.predictor.mix.MixTemperatures;
import org.layroom.predictor.room.RoomAnswer;
import org.layroom.predictor.verdict.MixCheck;
import org.layroom.predictor.verdict.Verdict;

/** Answers about rooms that are being watched: the mix check, the picture for the page, history. */
public final class RoomAnswers {
  /** A standing verdict is good for this long without being said anew. */
  public static final Duration VERDICT_STANDS = Duration.ofMinutes(3);

  private static final String NO_FORECAST =
      "No forecast for this room yet: times assume that the mold stays as it is.";

  private static final int MOST_PLANS = 50;
  private static final double USUAL_AIR_C = 20;

  /**
   * What every picture tells of the place it shows.
   *
   * @param room the room meant when none is named
   * @param material the material meant when none is chosen
   * @param paceFactor how much faster than real time the room's clock runs
   * @param demo whether the room is invented
   */
  public record Place(
      RoomName room, String material, ZoneId zone, double paceFactor, boolean demo) {}

  private final DashboardCore core;
  private final MaterialShelf shelf;
  private final GelTests tests;
  private volatile Supplier<List<PartOutcome>> outcomes = List::of;
  private final Place place;
  private final AirAnswers air;
  private final LiveConditions conditions;
  private final LearnedRooms learned;
  private final RoomOutlook outlook;
  private volatile Supplier<List<String>> notices = List::of;
  private final Map<PlanKey, PlanKept> plans = new ConcurrentHashMap<>();

  /**
   * The answers of a dashboard.
   *
   * @param air what the warnings say
   * @param learned what the rooms will do
   */
  public RoomAnswers(
      DashboardCore core,
      MaterialShelf shelf,
      GelTests tests,
      AirAnswers air,
      LearnedRooms learned,
      Place place) {
    this.core = core;
    this.learned = learned;
    this.outlook = new RoomOutlook(learned, tests, () -> outcomes.get(), place.zone());
    this.shelf = shelf;
    this.tests = tests;
    this.place = place;
    this.air = air;
    this.conditions = new LiveConditions(core);
  }

  /** Learns from what became of this shop's parts. */
  public void learnFrom(Supplier<List<PartOutcome>> parts) {
    outcomes = parts;
  }

  public Place place() {
    return place;
  }

  public MaterialShelf shelf() {
    return shelf;
  }

  /** The rooms that can be asked about: those heard of, and the one of the settings. */
  public List<RoomName> rooms() {
    List<RoomName> known = core.rooms();
    return known.contains(place.room())
        ? known
        : java.util.stream.Stream.concat(known.stream(), java.util.stream.Stream.of(place.room()))
            .toList();
  }

  /** The mix check of a room as it is now, with until when it stands. */
  public ObjectNode check(RoomName room, MaterialShelf.Entry material) {
    return check(core.snapshot(room), material);
  }

  /**
   * A mix for a room as it is now; temperatures that are typed go before the sensors'.
   *
   * @param fanOn whether the person has said that the fan runs
   */
  public Answer mix(
      RoomName room,
      MaterialShelf.Entry material,
      Map<String, List<String>> fields,
      boolean fanOn) {
    RoomSnapshot snapshot = core.snapshot(room);
    MixTemperatures measured = conditions.temperatures(snapshot);
    Optional<TemperatureOutlook> ahead =
        measured
            .mold()
            .flatMap(now -> learned.mold(room, snapshot.at(), now.temperatureC()))
            .filter(any -> !fields.containsKey("mold-temp"));
    Verdict check =
        MixCheck.check(
            Optional.of(material.material()),
            conditions.of(snapshot, air.warnings().state(snapshot)));
    Answer mix =
        MixJson.of(
            material,
            MixFields.parse(
                material.material(),
                fields,
                new MixFields.Known(
                    measured, ahead, Optional.of(check), tests::calibration, outcomes.get())));
    vapor(room, material, mix.json(), fanOn);
    if (mix.json().path("stages").isEmpty() || fields.containsKey("mold-temp")) {
      return mix;
    }
    String words = ahead(snapshot, material).map(RoomOutlook.Ahead::words).orElse(NO_FORECAST);
    mix.json().put("outlook", words).withArray("lines").insert(1, words);
    List<String> lines = new ArrayList<>(mix.words());
    lines.add(1, words);
    return new Answer(mix.json(), lines, mix.refused());
  }

  /** From now on these are shown to whoever looks at a room. */
  public void show(Supplier<List<String>> words) {
    notices = words;
  }

  /** The air of this mix, where the room's size is known: what the dose may be behind. */
  private void vapor(RoomName room, MaterialShelf.Entry material, ObjectNode mix, boolean fanOn) {
    double grams = mix.path("materialGrams").asDouble();
    double gelMinutes = mix.path("gelMinutes").path("p50").asDouble();
    if (airSettings(room).volumeM3().isEmpty() || !(grams > 0) || !(gelMinutes > 0)) {
      return;
    }
    double workingMinutes = Math.min(gelMinutes, mix.path("workingMinutes").asDouble(gelMinutes));
    boolean coat = material.material().kind() == MaterialKind.GEL_COAT;
    Map<String, List<String>> fields = new TreeMap<>();
    fields.put(coat ? "gel-coat" : "resin", List.of(grams / 1000 + "kg"));
    fields.put("working-time", List.of(minutes(workingMinutes)));
    fields.put("gel-time", List.of(minutes(gelMinutes)));
    if (measuredAirChanges(room).isEmpty()) {
      fields.put("door", List.of(fanOn ? "fan" : "shut"));
    }
    Answer air = fumes(room, material, fields);
    if (!air.refused()) {
      mix.set("vapor", air.json());
    }
  }

  private static String minutes(double minutes) {
    return Math.max(1, Math.round(minutes)) + "min";
  }

  private Optional<RoomOutlook.Ahead> ahead(RoomSnapshot room, MaterialShelf.Entry material) {
    return outlook.of(room.room(), material.material(), room.at());
  }

  /**
   * What a room will do.
   *
   * @param shown how far, 10 min to 72 h
   */
  public Answer forecast(RoomName room, Duration shown) {
    Answer answer =
        ForecastAnswer.of(learned.answer(room), learned.at(room), place.zone(), shown, List.of());
    answer.json().put("room", room.value());
    if (answer.json().has("points")) {
      answer.json().set("air", answer.json().remove("points"));
    }
    return answer;
  }

  private record PlanKey(RoomName room, List<String> materials, Map<String, List<String>> fields) {}

  /** Holds no forecast of a room that is at rest by now. */
  private record PlanKept(WeakReference<RoomAnswer> of, List<KnownCan> cans, Answer answer) {}

  private record KnownCan(List<GelTests.Kept> tests, Hardening hardening) {}

  /** What this shop's gel tests and parts have taught. */
  private final class TaughtHere implements MixFields.Taught {
    @Override
    public Calibration of(Material material) throws InvalidMaterial {
      return tests.calibration(material);
    }

    @Override
    public Hardening hardening(Material material) {
      return material.hardening().taughtBy(outcomes.get(), material.id());
    }
  }

  /** When to start in a room; worked out once for each forecast, question and what is learned. */
  public Answer plan(
      RoomName room, List<MaterialShelf.Entry> materials, Map<String, List<String>> fields) {
    RoomSnapshot snapshot = core.snapshot(room);
    Optional<Double> vapor =
        snapshot
            .fresh(Series.VOC_LEVEL, VERDICT_STANDS)
            .map(value -> value.reading().value().orElseThrow())
            .filter(level -> level > 0);
    PlanQuestion.Parsed parsed =
        PlanQuestion.parse(materials, fields, place.zone(), vapor, new TaughtHere());
    if (parsed.question().isEmpty()) {
      return Answer.refusal(parsed.refused());
    }
    List<String> ids = materials.stream().map(entry -> entry.material().id()).toList();
    PlanKey key = new PlanKey(room, ids, fields);
    RoomAnswer known = learned.answer(room);
    List<KnownCan> cans =
        parsed.question().get().materials().stream()
            .map(MaterialShelf.Entry::material)
            .map(can -> new KnownCan(tests.tests(can.id()), new TaughtHere().hardening(can)))
            .toList();
    PlanKept kept = plans.get(key);
    if (kept == null || !Objects.equals(kept.of().get(), known) || !kept.cans().equals(cans)) {
      if (plans.size() > MOST_PLANS) {
        plans.clear();
      }
      kept =
          new PlanKept(
              new WeakReference<>(known),
              cans,
              PlanAnswer.of(
                  parsed.question().get(),
                  known,
                  learned.response(room),
                  learned.at(room),
                  List.of()));
      plans.put(key, kept);
    }
    return kept.answer();
  }

  /** The air of a layup in a room; what is known of it stands in for what was not typed. */
  public Answer fumes(
      RoomName room, MaterialShelf.Entry material, Map<String, List<String>> fields) {
    RoomSnapshot snapshot = core.snapshot(room);
    AirSettings decided = air.warnings().settings(room);
    FumesFields.Known known =
        FumesFields.Known.of(Optional.of(material.material()), tests::calibration)
            .in(decided.volumeM3(), air.airings().measuredPerHour(room), decided.limit());
    return FumesAnswer.of(fields, conditions.known(snapshot, known));
  }

  /** What was decided about the air of a room. */
  public AirSettings airSettings(RoomName room) {
    return air.warnings().settings(room);
  }

  /** The air changes that were measured in a room, per hour. */
  public Optional<Double> measuredAirChanges(RoomName room) {
    return air.airings().measuredPerHour(room);
  }

  /** The temperature of a room's air, degC; a usual one where nothing measures it now. */
  public double airC(RoomName room) {
    return conditions.airC(core.snapshot(room)).orElse(USUAL_AIR_C);
  }

  private ObjectNode check(RoomSnapshot room, MaterialShelf.Entry material) {
    ObjectNode json =
        CheckAnswer.of(Optional.of(material), conditions.of(room, air.warnings().state(room)))
            .json();
    ahead(room, material)
        .ifPresentOrElse(
            words -> {
              json.put("outlook", words.words());
              json.withArray("reasons")
                  .addObject()
                  .put("about", "forecast")
                  .put("state", words.trouble() ? "warn" : "ok")
                  .put("words", words.words());
            },
            () -> json.put("outlook", NO_FORECAST));
    json.put("room", room.room().value());
    json.put("time", room.at().toString());
    json.put("validUntil", room.at().plus(VERDICT_STANDS).toString());
    return json;
  }

  /** Everything that the page shows of a room besides its history. */
  public ObjectNode picture(RoomName name, MaterialShelf.Entry material) {
    learned.lookedAt(name);
    RoomSnapshot room = core.snapshot(name);
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("room", name.value());
    json.put("time", room.at().toString());
    json.put("zone", place.zone().getId());
    json.put("paceFactor", place.paceFactor());
    json.put("demo", place.demo());
    json.set("verdict", check(room, material));
    ObjectNode links = json.putObject("links").put("broker", room.linked());
    core.link().trouble().ifPresent(trouble -> links.put("trouble", trouble));
    Optional<Instant> newest =
        room.values().values().stream().map(LiveValue::time).max(Instant::compareTo);
    newest.ifPresent(time -> json.put("newest", time.toString()));
    json.set("air", air.air(name));
    StoreAnswers.unseen(core.store()).ifPresent(words -> json.put("storeMended", words));
    ArrayNode told = json.putArray("notices");
    notices.get().forEach(told::add);
    boolean ppm = air.warnings().settings(name).mode() == DeviceSettings.Mode.PID;
    series(json.putObject("series"), room, ppm);
    devices(json.putArray("devices"), room.devices());
    return json;
  }

  /** Only a detector with a factor tells ppm: without one no figure is shown. */
  private static void series(ObjectNode json, RoomSnapshot room, boolean ppm) {
    for (Map.Entry<String, LiveValue> entry : new TreeMap<>(room.values()).entrySet()) {
      LiveValue live = entry.getValue();
      ObjectNode node = json.putObject(entry.getKey());
      if (ppm || !entry.getKey().equals(Series.STYRENE_ESTIMATE)) {
        live.reading().value().ifPresent(value -> node.put("value", value));
      }
      live.reading().text().ifPresent(text -> node.put("text", text));
      node.put("unit", live.reading().unit());
      node.put("time", live.time().toString());
      node.put("ageSeconds", live.age().toMillis() / 1000.0);
      node.put("quality", live.reading().quality().words());
      node.put("device", live.device().value());
    }
  }

  private static void devices(ArrayNode json, List<DeviceRecord> devices) {
    for (DeviceRecord device : devices) {
      ObjectNode node = json.addObject();
      node.put("name", device.channel().device().value());
      Optional<DeviceRecord.Said> said = device.said();
      node.put(
          "state",
          said.map(s -> s.status().online() ? "online" : "offline").orElse("never connected"));
      said.ifPresent(s -> node.put("since", s.since().toString()));
      said.flatMap(s -> s.status().clock())
          .ifPresent(
              clock -> {
                node.put("clockSet", clock.set());
                clock.at().ifPresent(at -> node.put("clockSetAt", at.toString()));
              });
      ArrayNode faults = node.putArray("faults");
      for (DeviceStatus.PartFault fault : said.map(s -> s.status().faults()).orElse(List.of())) {
        faults.addObject().put("part", fault.part()).put("reason", fault.reason());
      }
    }
  }

  /**
   * The readings of a room in {@code [from, to)} as CSV.
   *
   * @throws IOException when they cannot be written
   */
  public void readings(RoomName room, Instant from, Instant to, Appendable out) throws IOException {
    ReadingsCsv.write(rows(room), from, to, out);
  }

  /**
   * The readings of a room in {@code [from, to)} as JSON.
   *
   * @throws IOException when they cannot be written
   */
  public void readingsJson(RoomName room, Instant from, Instant to, Writer out) throws IOException {
    ReadingsJson.write(room, rows(room), from, to, out);
  }

  private ReadingsRows rows(RoomName room) {
    return new ReadingsRows(core.store(), room, core.snapshot(room).values().keySet());
  }

  /** The room's time now. */
  public Instant now(RoomName room) {
    return core.snapshot(room).at();
  }

  /** A series of a room for the strip. */
  public ObjectNode history(RoomName room, String series, Instant from, Instant to, int points) {
    return HistoryAnswer.of(core.store().history(), room, series, from, to, points);
  }
}
