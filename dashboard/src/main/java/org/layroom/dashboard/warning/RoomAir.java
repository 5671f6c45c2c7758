package org.layroom.dashboard.warning;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.decision.AirJob;
import org.layroom.dashboard.decision.AirSettings;
import org.layroom.dashboard.decision.SettingsAgreement;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.CleanAirReading;

/**
 * What is known of a room's air at one moment.
 *
 * @param at by the wall clock
 * @param settings what was decided
 * @param job the job under way
 * @param call the worst of all devices; unknown without any
 * @param warnings those that stand, the worst first
 * @param devices what each device that measures vapor says
 * @param wipingUntil until when ventilate makes no sound because solvent is wiped
 * @param wipingRefused why nobody can say so now; empty when somebody can
 */
public record RoomAir(
    Instant at,
    AirSettings settings,
    Optional<AirJob> job,
    AirCall call,
    List<OpenWarning> warnings,
    List<DeviceAir> devices,
    Optional<Instant> wipingUntil,
    Optional<String> wipingRefused) {
  /**
   * One device's air.
   *
   * @param call by the watch upstairs
   * @param words the averages, in the words that the sensor is entitled to
   * @param full nothing quiets its warnings
   * @param cleanAirAsked why a clean-air reading is asked for; empty when it is not
   * @param cleanAir the reading that is kept upstairs
   * @param alarm what the device itself says
   * @param agreement whether it goes by what was decided here
   * @param sensor what is known of its vapor sensor beside its readings
   * @param bumpTestAsked why a bump test is asked for; empty when it is not
   */
  public record DeviceAir(
      DeviceName device,
      AirCall call,
      List<String> words,
      boolean full,
      Optional<String> cleanAirAsked,
      Optional<CleanAirReading> cleanAir,
      Optional<AlarmState> alarm,
      SettingsAgreement agreement,
      SensorLife sensor,
      Optional<String> bumpTestAsked) {
    public DeviceAir {
      words = List.copyOf(words);
    }
  }

  public RoomAir {
    warnings = List.copyOf(warnings);
    devices = List.copyOf(devices);
  }
}
