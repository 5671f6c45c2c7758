package org.layroom.dashboard.warning;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.layroom.dashboard.decision.PersonName;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.SensorOffset;
import org.layroom.predictor.vapor.CleanAirReading;

/**
 * What people do about the sensors behind the warnings: bump tests, clean-air readings, new
 * sensors, corrections. Safe for several threads: it holds the lock of the warnings.
 */
public final class SensorUpkeep {
  private final Object lock;
  private final AirParts parts;

  /**
   * Over the parts of the warnings.
   *
   * @param lock held by whoever uses these parts
   */
  SensorUpkeep(Object lock, AirParts parts) {
    this.lock = lock;
    this.parts = parts;
  }

  /** What people decided that the sensors of a device are off by. */
  public List<SensorOffset> offsets(Channel channel) {
    synchronized (lock) {
      return parts.offsets().of(channel);
    }
  }

  /** Decides what a sensor is corrected by; its device is told. */
  public void correct(Channel channel, SensorOffset offset) {
    synchronized (lock) {
      String who = PersonName.checked(offset.who());
      parts
          .offsets()
          .keep(channel, new SensorOffset(offset.series(), offset.amount(), offset.taken(), who));
      parts.devices().tell(parts.watch(channel).device(), parts.pace().now(), who);
    }
  }

  /** A cup was mixed in a room: its vapor sensor must show a rise. */
  public void cupMixed(RoomName room, Instant mixed, double grams) {
    synchronized (lock) {
      parts.bumpTests().cupMixed(room, mixed, grams);
    }
  }

  /** A cup was taken back, or the part is given up: no rise is expected of it. */
  public void noCup(RoomName room) {
    synchronized (lock) {
      parts.bumpTests().noCup(room);
    }
  }

  /**
   * Begins a bump test of a room's vapor sensor. Its rise is real: lamp, buzzer and fan come on by
   * it.
   *
   * @param saidAs an id made by whoever begins: saying it again changes nothing
   * @param who 1 to 60 characters
   * @throws IllegalArgumentException where a rise could not be seen now
   */
  public void beginBumpTest(RoomName room, Optional<DeviceName> device, String saidAs, String who) {
    synchronized (lock) {
      Mode mode = parts.decisions().settings(room).mode();
      DeviceWatch watch =
          parts.bumpTests().begin(room, device, mode, saidAs, PersonName.checked(who));
      parts.procedures().callOff(watch.channel());
    }
  }

  /** Somebody says whether lamp, buzzer and fan came on in the newest bump test. */
  public void alarmSeen(
      RoomName room, Optional<DeviceName> device, String saidAs, String who, boolean seen) {
    synchronized (lock) {
      Mode mode = parts.decisions().settings(room).mode();
      parts.bumpTests().alarmSeen(room, device, mode, saidAs, PersonName.checked(who), seen);
    }
  }

  /**
   * Somebody put a new vapor sensor in. Its age, hours and tests begin anew, and nothing that was
   * learned of the one before holds: until its own clean-air reading is taken the air is unknown.
   *
   * @param saidAs an id made by whoever says so: saying it again changes nothing
   * @param who 1 to 60 characters
   */
  public void newSensor(RoomName room, Optional<DeviceName> device, String saidAs, String who) {
    synchronized (lock) {
      String name = PersonName.checked(who);
      Mode mode = parts.decisions().settings(room).mode();
      parts
          .bumpTests()
          .fitted(room, device, mode, saidAs, name)
          .ifPresent(
              watch -> {
                parts.procedures().callOff(watch.channel());
                parts
                    .steps()
                    .changed(
                        watch,
                        watch.fitted(
                            parts.watches().rules(watch.channel()), parts.watches().time()));
                parts.steps().changed(watch, watch.doubted(parts.bumpTests().doubt(watch)));
                parts.decided().tellDevices(room, name);
              });
    }
  }

  /** The bump test that is under way with a device; empty when none is. */
  public Optional<BumpRun.State> bumpTest(Channel channel) {
    synchronized (lock) {
      return parts
          .watches()
          .of(channel)
          .flatMap(watch -> parts.bumpTests().of(channel).state(watch.watch().now()));
    }
  }

  /** When the bump tests of a room were through. */
  public List<Instant> bumpTests(RoomName room) {
    synchronized (lock) {
      return parts.bumpTests().tests(room);
    }
  }

  /** Who is told, while a lock is held, when a bump test begins. */
  public void onBumpTest(Consumer<Channel> listener) {
    synchronized (lock) {
      parts.bumpTests().onBegun(listener);
    }
  }

  /** Begins the clean-air procedure of the device that speaks for a room's air, or of another. */
  public CleanAirRun.State beginCleanAir(
      RoomName room, Optional<DeviceName> device, CleanAirRun.Promised promised) {
    synchronized (lock) {
      return parts.procedures().begin(room, device, promised);
    }
  }

  /** How far the clean-air procedure is; empty when none was begun. */
  public Optional<CleanAirRun.State> cleanAir(RoomName room, Optional<DeviceName> device) {
    synchronized (lock) {
      return parts.procedures().state(room, device);
    }
  }

  /**
   * Takes the clean-air reading when the procedure is through; a doubtful one only when confirmed.
   * The device is told.
   *
   * @return the reading that was taken; empty when it cannot be yet
   */
  public Optional<CleanAirReading> takeCleanAir(
      RoomName room, Optional<DeviceName> device, String who, String saidAs, boolean confirmed) {
    synchronized (lock) {
      String name = PersonName.checked(who);
      Optional<CleanAirProcedures.Taken> taken = parts.procedures().take(room, device, confirmed);
      taken.ifPresent(
          one -> {
            parts.store().keep(one.channel(), one.reading(), name, saidAs);
            DeviceWatch watch = parts.watch(one.channel());
            parts.bumpTests().of(one.channel()).cleanAir(watch.cleanAir(), one.reading());
            parts
                .steps()
                .changed(
                    watch,
                    watch.cleanAir(
                        one.reading(),
                        parts.watches().rules(one.channel()),
                        parts.watches().time()));
            parts.decided().tellDevices(room, name);
          });
      return taken.map(CleanAirProcedures.Taken::reading);
    }
  }
}
