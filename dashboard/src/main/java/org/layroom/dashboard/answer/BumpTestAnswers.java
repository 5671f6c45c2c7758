package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.layroom.dashboard.warning.AirWarnings;
import org.layroom.dashboard.warning.BumpRun;
import org.layroom.dashboard.warning.RoomAir;
import org.layroom.dashboard.warning.SensorLife;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.vapor.BumpTest;

/** Answers about the bump test of a room's vapor sensors, and about their age and hours. */
public final class BumpTestAnswers {
  private static final String SOUNDS =
      "Lamp, buzzer and fan come on by the sensor's own reading, as in real vapor: Ventilate first,"
          + " and Leave when the swab stays longer than a minute. Acknowledge it. The test changes"
          + " no setting and calibrates nothing.";
  private static final String THEN =
      "Take the swab outdoors as soon as the rise is seen. Say whether lamp, buzzer and fan came on,"
          + " and ventilate until the vapor is low.";
  private static final String SOURCE =
      "Testing a detector with a vapor is common practice. Amount, distance, rise and times are"
          + " Layroom's own choice.";

  private final AirWarnings warnings;

  public BumpTestAnswers(AirWarnings warnings) {
    this.warnings = warnings;
  }

  /** The steps, every sensor's age and last test, and how far a test under way is. */
  public ObjectNode state(RoomName room) {
    RoomAir air = warnings.air(room);
    boolean ppm = air.settings().mode() == Mode.PID;
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("room", room.value()).put("time", air.at().toString());
    ArrayNode steps = json.putArray("steps");
    List.of(BumpTest.HOW, SOUNDS, THEN).forEach(steps::add);
    json.put("caution", BumpTest.NEVER).put("source", SOURCE);
    ArrayNode devices = json.putArray("devices");
    for (RoomAir.DeviceAir device : air.devices()) {
      ObjectNode one = devices.addObject();
      one.put("device", device.device().value());
      describe(one, device, air.at());
      Optional<BumpRun.State> going =
          warnings.sensors().bumpTest(new Channel(room, device.device()));
      one.put("going", going.isPresent());
      going.ifPresent(run -> going(one, run, ppm));
    }
    return json;
  }

  private static void going(ObjectNode json, BumpRun.State run, boolean ppm) {
    String unit = ppm ? "ppm as styrene" : "times clean air";
    json.put("begun", run.begun().toString()).put("rising", run.rising());
    json.put("level", run.level()).put("target", run.target());
    json.put("leftSeconds", run.left().toMillis() / 1000.0);
    json.put(
        "words",
        String.format(
            Locale.ROOT,
            run.rising()
                ? "The vapor rises: %.1f of %.1f %s. Keep the swab there."
                : "Hold the swab to the sensor now: %.1f of %.1f %s.",
            run.level(),
            run.target(),
            unit));
  }

  /** What is known of a device's vapor sensor beside its readings. */
  static void describe(ObjectNode json, RoomAir.DeviceAir device, Instant now) {
    SensorLife life = device.sensor();
    ObjectNode sensor = json.putObject("sensor");
    Duration age = Duration.between(life.proof().since(), now);
    sensor.put("since", life.proof().since().toString()).put("ageDays", Math.max(0, age.toDays()));
    sensor.put("hoursOn", life.on().toMinutes() / 60.0);
    sensor.put("proven", life.proof().provenLately(now));
    life.proof().fitted().ifPresent(at -> sensor.put("fitted", at.toString()));
    life.proof().rise().ifPresent(at -> sensor.put("lastRise", at.toString()));
    life.proof()
        .test()
        .ifPresent(
            result -> {
              ObjectNode test = sensor.putObject("lastTest");
              test.put("time", result.time().toString()).put("passed", result.passed());
              boolean ppm = life.tester().map(SensorLife.Tester::ppm).orElse(false);
              test.put("words", result.words(ppm));
              life.tester()
                  .ifPresent(
                      by -> {
                        test.put("id", by.test()).put("who", by.who());
                        by.alarmSeen().ifPresent(seen -> test.put("alarmSeen", seen));
                      });
            });
    device.bumpTestAsked().ifPresent(why -> sensor.put("bumpTestAsked", why));
    life.proof().doubt().ifPresent(why -> sensor.put("fault", why));
  }

  /** Begins a bump test. */
  public ObjectNode begin(RoomName room, Optional<DeviceName> device, String saidAs, String who) {
    warnings.sensors().beginBumpTest(room, device, saidAs, who);
    return state(room);
  }

  /** Somebody says whether lamp, buzzer and fan came on in the newest test. */
  public ObjectNode alarmSeen(
      RoomName room, Optional<DeviceName> device, String saidAs, String who, boolean seen) {
    warnings.sensors().alarmSeen(room, device, saidAs, who, seen);
    return state(room);
  }

  /** Somebody put a new sensor in: what was known of the one before holds no more. */
  public ObjectNode newSensor(
      RoomName room, Optional<DeviceName> device, String saidAs, String who) {
    warnings.sensors().newSensor(room, device, saidAs, who);
    return state(room);
  }

  /** Whether a bump test was done in a time: its fall says nothing of how well the room airs. */
  boolean within(RoomName room, Instant from, Instant to) {
    Instant earliest = from.minus(BumpTest.STARTS_WITHIN);
    return warnings.sensors().bumpTests(room).stream()
        .anyMatch(at -> !at.isBefore(earliest) && !at.isAfter(to));
  }
}
