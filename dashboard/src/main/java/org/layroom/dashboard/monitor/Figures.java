package org.layroom.dashboard.monitor;

import io.prometheus.metrics.expositionformats.ExpositionFormatWriter;
import io.prometheus.metrics.expositionformats.ExpositionFormats;
import io.prometheus.metrics.model.snapshots.CounterSnapshot;
import io.prometheus.metrics.model.snapshots.GaugeSnapshot;
import io.prometheus.metrics.model.snapshots.InfoSnapshot;
import io.prometheus.metrics.model.snapshots.Labels;
import io.prometheus.metrics.model.snapshots.MetricSnapshot;
import io.prometheus.metrics.model.snapshots.MetricSnapshots;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.layroom.dashboard.ingest.IngestCounts;
import org.layroom.dashboard.ingest.Rejection;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.room.LiveValue;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.dashboard.store.DeviceRecord;
import org.layroom.dashboard.warning.RoomAir;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.room.RoomSkill;
import org.layroom.predictor.vapor.AirCall;

/**
 * The dashboard's figures for a monitor. Readings are those that the page shows, from the device
 * that speaks for them; one that is not good, or is over five minutes old, is absent.
 */
public final class Figures {
  /** An older reading says nothing of now. */
  private static final Duration OLDEST = Duration.ofMinutes(5);

  private static final ExpositionFormats FORMATS = ExpositionFormats.init();

  private final DashboardCore core;
  private final Readiness readiness;
  private final Function<RoomName, RoomAir> air;
  private final Function<RoomName, Optional<RoomSkill>> skill;
  private final String version;

  /**
   * The figures of a dashboard.
   *
   * @param skill how a room's forecast has done lately, without waiting for one
   */
  public Figures(
      DashboardCore core,
      Readiness readiness,
      Function<RoomName, RoomAir> air,
      Function<RoomName, Optional<RoomSkill>> skill,
      String version) {
    this.core = core;
    this.readiness = readiness;
    this.air = air;
    this.skill = skill;
    this.version = version;
  }

  /**
   * Figures as they go over the wire.
   *
   * @param contentType the format, as in the header of that name
   */
  public record Text(String contentType, String body) {}

  /**
   * The figures as of now.
   *
   * @param accept which formats the monitor reads, as in the header of that name; null for any
   */
  public Text text(@Nullable String accept) {
    ExpositionFormatWriter writer = FORMATS.findWriter(accept);
    ByteArrayOutputStream body = new ByteArrayOutputStream();
    try {
      writer.write(body, figures());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return new Text(writer.getContentType(), body.toString(StandardCharsets.UTF_8));
  }

  private MetricSnapshots figures() {
    List<MetricSnapshot> all = new ArrayList<>();
    all.add(
        InfoSnapshot.builder()
            .name("layroom_build")
            .help("The running program.")
            .dataPoint(
                InfoSnapshot.InfoDataPointSnapshot.builder()
                    .labels(Labels.of("version", version))
                    .build())
            .build());
    counters(all);
    all.add(gauge("layroom_ready", "1 while /readyz answers 200.", readiness.reasons().isEmpty()));
    all.add(
        gauge(
            "layroom_broker_connected",
            "1 while the dashboard is connected to its broker.",
            core.link().connected()));
    all.add(
        one(
            "layroom_store_waiting_messages",
            "Messages taken in that wait for their commit.",
            core.waitingForCommit()));
    all.add(
        gauge(
            "layroom_store_failing", "1 while the store cannot be written.", core.storeFailing()));
    long free = readiness.freeBytes();
    if (free >= 0) {
      all.add(one("layroom_disk_free_bytes", "Free where the data folder is.", (double) free));
    }
    all.add(one("layroom_rooms", "Rooms ever heard of.", core.rooms().size()));
    rooms(all);
    return new MetricSnapshots(all);
  }

  private void counters(List<MetricSnapshot> all) {
    IngestCounts counts = core.counts();
    all.add(count("layroom_messages", "Messages taken in since the start.", counts.messages()));
    all.add(count("layroom_samples", "Samples that were new to the store.", counts.samples()));
    all.add(
        count("layroom_duplicates", "Entries that the store had already.", counts.duplicates()));
    all.add(
        count(
            "layroom_clock_corrected_samples",
            "Samples whose device clock was wrong.",
            counts.corrected()));
    CounterSnapshot.Builder refused =
        CounterSnapshot.builder()
            .name("layroom_refused")
            .help("Messages, or values of them, that did not become good readings.");
    for (Rejection reason : Rejection.values()) {
      refused.dataPoint(
          CounterSnapshot.CounterDataPointSnapshot.builder()
              .labels(Labels.of("reason", id(reason)))
              .value((double) counts.refused(reason))
              .build());
    }
    all.add(refused.build());
  }

  private void rooms(List<MetricSnapshot> all) {
    Gauges gauges = new Gauges();
    for (RoomName name : core.rooms()) {
      RoomSnapshot room = core.snapshot(name);
      readings(gauges, room);
      for (DeviceRecord device : room.devices()) {
        device
            .said()
            .ifPresent(
                said ->
                    gauges.add(
                        "layroom_device_online",
                        "1 while the device is connected to the broker.",
                        of(name, device.channel().device().value()),
                        said.status().online() ? 1 : 0));
      }
      RoomAir now = air.apply(name);
      for (AirCall call : AirCall.values()) {
        gauges.add(
            "layroom_air_state",
            "1 for what the air of the room calls for, 0 for the others.",
            Labels.of("room", name.value(), "state", id(call)),
            now.call() == call ? 1 : 0);
      }
      gauges.add(
          "layroom_open_warnings",
          "Warnings of the air that stand.",
          Labels.of("room", name.value()),
          now.warnings().size());
      skill
          .apply(name)
          .filter(one -> one.nights() > 0)
          .ifPresent(
              one ->
                  gauges.add(
                      "layroom_forecast_overnight_error_kelvin",
                      "Mean absolute error of the last nights' forecasts of air temperature.",
                      Labels.of("room", name.value()),
                      one.overnightErrorK()));
    }
    all.addAll(gauges.built());
  }

  private static void readings(Gauges gauges, RoomSnapshot room) {
    for (LiveValue value : room.values().values()) {
      String series = value.reading().name();
      Labels labels = of(room.room(), value.device().value());
      gauges.add(
          "layroom_reading_age_seconds",
          "Age of the newest reading of a series, good or not.",
          labels.add("series", series),
          value.age().toMillis() / 1000.0);
      Optional<LiveValue> fresh = room.fresh(series, OLDEST);
      if (fresh.isPresent()) {
        reading(gauges, series, labels, fresh.get().reading().value().orElseThrow());
      }
    }
  }

  private static void reading(Gauges gauges, String series, Labels labels, double value) {
    switch (series) {
      case Series.TEMPERATURE ->
          gauges.add("layroom_air_temperature_celsius", "Air temperature.", labels, value);
      case Series.HUMIDITY ->
          gauges.add(
              "layroom_relative_humidity_ratio", "Relative humidity, 0 to 1.", labels, value / 100);
      case Series.RESIN_TEMPERATURE ->
          gauges.add("layroom_resin_temperature_celsius", "Resin temperature.", labels, value);
      case Series.VOC_LEVEL ->
          gauges.add(
              "layroom_vapor_level",
              "Vapor in times clean air. Not a styrene measurement.",
              labels,
              value);
      case Series.PRESSURE ->
          gauges.add("layroom_air_pressure_pascals", "Air pressure.", labels, value);
      default -> {
        if (series.equals(Series.MOLD_TEMPERATURE)
            || series.startsWith(Series.MOLD_TEMPERATURE + "/")) {
          String mold = series.substring(Series.MOLD_TEMPERATURE.length()).replaceFirst("^/", "");
          gauges.add(
              "layroom_mold_temperature_celsius",
              "Mold temperature; mold is empty for the only one.",
              labels.add("mold", mold),
              value);
        }
      }
    }
  }

  private static Labels of(RoomName room, String device) {
    return Labels.of("room", room.value(), "device", device);
  }

  private static String id(Enum<?> one) {
    return one.name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  private static MetricSnapshot gauge(String name, String help, boolean on) {
    return one(name, help, on ? 1 : 0);
  }

  private static MetricSnapshot one(String name, String help, double value) {
    Gauges gauges = new Gauges();
    gauges.add(name, help, Labels.EMPTY, value);
    return gauges.built().get(0);
  }

  private static MetricSnapshot count(String name, String help, long value) {
    return CounterSnapshot.builder()
        .name(name)
        .help(help)
        .dataPoint(CounterSnapshot.CounterDataPointSnapshot.builder().value((double) value).build())
        .build();
  }

  /** Gauges under way: the points of one name are gathered from all rooms. */
  private static final class Gauges {
    private final Map<String, GaugeSnapshot.Builder> byName = new LinkedHashMap<>();

    void add(String name, String help, Labels labels, double value) {
      byName
          .computeIfAbsent(name, n -> GaugeSnapshot.builder().name(n).help(help))
          .dataPoint(
              GaugeSnapshot.GaugeDataPointSnapshot.builder().labels(labels).value(value).build());
    }

    List<GaugeSnapshot> built() {
      return byName.values().stream().map(GaugeSnapshot.Builder::build).toList();
    }
  }
}
