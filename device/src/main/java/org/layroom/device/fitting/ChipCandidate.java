package org.layroom.device.fitting;

import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import org.layroom.device.sampling.Sensor;

/** A driver that was opened at an address where its chip may be. For one thread. */
public final class ChipCandidate {
  private final Runnable prepare;
  private final BooleanSupplier present;
  private final Supplier<Sensor> sensor;
  private final Supplier<Optional<Sensor>> outranked;

  private ChipCandidate(
      Runnable prepare,
      BooleanSupplier present,
      Supplier<Sensor> sensor,
      Supplier<Optional<Sensor>> outranked) {
    this.prepare = prepare;
    this.present = present;
    this.sensor = sensor;
    this.outranked = outranked;
  }

  /**
   * A chip that needs no preparation, and whose sensor gives nothing where it is outranked.
   *
   * @param present asks the chip; may wait on the caller's thread
   * @param sensor makes the sensor of a chip that is present
   */
  public static ChipCandidate of(BooleanSupplier present, Supplier<Sensor> sensor) {
    return new ChipCandidate(() -> {}, present, sensor, Optional::empty);
  }

  /** The same, with something to begin before any chip is asked; it must not wait. */
  public ChipCandidate preparedBy(Runnable beginning) {
    return new ChipCandidate(beginning, present, sensor, outranked);
  }

  /** The same, with the sensor that it becomes beside a chip that outranks it. */
  public ChipCandidate outrankedAs(Supplier<Sensor> lesser) {
    return new ChipCandidate(prepare, present, sensor, () -> Optional.of(lesser.get()));
  }

  void prepare() {
    prepare.run();
  }

  boolean present() {
    return present.getAsBoolean();
  }

  /** A new sensor for this chip; empty where it has nothing to give beside a better one. */
  public Optional<Sensor> sensor(boolean besideBetter) {
    return besideBetter ? outranked.get() : Optional.of(sensor.get());
  }
}
