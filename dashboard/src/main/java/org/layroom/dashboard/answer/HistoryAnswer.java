package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.layroom.dashboard.store.Bucket;
import org.layroom.dashboard.store.History;
import org.layroom.dashboard.store.SeriesHistory;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.air.MoistAir;

/** A series over time for the room strip, measured or derived, in buckets of equal width. */
public final class HistoryAnswer {
  /** Mold surface minus dew point of the air, K: derived from three measured series. */
  public static final String DEW_POINT_MARGIN = "dew-point-margin";

  private HistoryAnswer() {}

  /**
   * A series in {@code [from, to)}.
   *
   * @param points how many buckets at most, 1 or more
   */
  public static ObjectNode of(
      History history, RoomName room, String series, Instant from, Instant to, int points) {
    SeriesHistory answer =
        series.equals(DEW_POINT_MARGIN)
            ? margin(history, room, from, to, points)
            : history.between(room, series, from, to, points);
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("room", room.value()).put("series", series);
    json.put("from", from.toString()).put("to", to.toString());
    json.put("bucketSeconds", answer.bucketWidth().toMillis() / 1000.0);
    answer.device().ifPresent(device -> json.put("device", device.value()));
    ArrayNode time = json.putArray("time");
    ArrayNode min = json.putArray("min");
    ArrayNode mean = json.putArray("mean");
    ArrayNode max = json.putArray("max");
    ArrayNode n = json.putArray("n");
    for (Bucket bucket : answer.buckets()) {
      time.add((bucket.from().toEpochMilli() + bucket.to().toEpochMilli()) / 2000.0);
      min.add(bucket.min());
      mean.add(bucket.mean());
      max.add(bucket.max());
      n.add(bucket.n());
    }
    return json;
  }

  private static SeriesHistory margin(
      History history, RoomName room, Instant from, Instant to, int points) {
    SeriesHistory mold = history.between(room, Series.MOLD_TEMPERATURE, from, to, points);
    Map<Instant, Bucket> air = byStart(history.between(room, Series.TEMPERATURE, from, to, points));
    Map<Instant, Bucket> damp = byStart(history.between(room, Series.HUMIDITY, from, to, points));
    List<Bucket> margins = new ArrayList<>();
    for (Bucket bucket : mold.buckets()) {
      Bucket airBucket = air.get(bucket.from());
      Bucket dampBucket = damp.get(bucket.from());
      if (airBucket != null && dampBucket != null && dampBucket.mean() > 0) {
        double dewPoint = MoistAir.dewPointC(airBucket.mean(), dampBucket.mean());
        margins.add(
            new Bucket(
                bucket.from(),
                bucket.to(),
                bucket.min() - dewPoint,
                bucket.mean() - dewPoint,
                bucket.max() - dewPoint,
                bucket.n()));
      }
    }
    return new SeriesHistory(mold.device(), mold.bucketWidth(), margins);
  }

  private static Map<Instant, Bucket> byStart(SeriesHistory history) {
    Map<Instant, Bucket> byStart = new HashMap<>();
    history.buckets().forEach(bucket -> byStart.put(bucket.from(), bucket));
    return byStart;
  }
}
