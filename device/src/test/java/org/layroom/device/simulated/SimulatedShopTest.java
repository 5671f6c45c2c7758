package org.layroom.device.simulated;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.LongRange;
import org.junit.jupiter.api.Test;

/**
 * The invented shop behaves as a shop does: common practice, no source, except where one is named.
 */
class SimulatedShopTest {
  /** A Saturday. */
  private static final Instant NOON = Instant.parse("2026-03-14T12:00:00Z");

  private static SimulatedShop shop() {
    SimulatedShop shop = new SimulatedShop(NOON, ZoneOffset.UTC, 1);
    shop.ownLayups(false);
    return shop;
  }

  private static RoomTruth after(SimulatedShop shop, Duration time) {
    shop.advanceTo(NOON.plus(time));
    return shop.truth();
  }

  @Test
  void aHeatedWeekendIsWarmEnoughToWorkAndTheNightIsColder() {
    SimulatedShop shop = shop();
    double evening = after(shop, Duration.ofHours(8)).airC();
    double morning = after(shop, Duration.ofHours(19)).airC();
    assertTrue(evening > 19 && evening < 22, "evening " + evening);
    assertTrue(morning < evening - 3, "early morning " + morning);
  }

  @Test
  void theMoldLagsBehindTheAir() {
    SimulatedShop shop = shop();
    after(shop, Duration.ofHours(20));
    RoomTruth morning = after(shop, Duration.ofHours(21));
    assertTrue(morning.airC() > morning.moldC() + 1, morning.toString());
  }

  @Test
  void aLayupRaisesTheVaporAndTheFanCarriesItAway() {
    SimulatedShop shop = shop();
    double clean = after(shop, Duration.ofHours(2)).vocRaw();
    shop.startLayup();
    double rolling = after(shop, Duration.ofHours(2).plusMinutes(25)).vocRaw();
    double aired = after(shop, Duration.ofHours(7)).vocRaw();
    assertTrue(rolling < clean - 870, "more than doubled: " + clean + " to " + rolling);
    assertTrue(aired > clean - 300, "clean again: " + aired);
  }

  @Test
  void withoutHeatTheRoomCoolsAndAnOpenDoorCoolsItFaster() {
    SimulatedShop kept = shop();
    SimulatedShop unheated = shop();
    SimulatedShop open = shop();
    unheated.heater(false);
    open.heater(false);
    open.door(true);
    Duration later = Duration.ofHours(3);
    double warm = after(kept, later).airC();
    double cool = after(unheated, later).airC();
    double cold = after(open, later).airC();
    assertTrue(warm > cool + 1 && cool > cold + 1, warm + " " + cool + " " + cold);
  }

  @Test
  void coldAndDampComesWithinHalfAnHourWithoutAJump() {
    SimulatedShop shop = shop();
    double before = after(shop, Duration.ofHours(3)).airC();
    shop.makeColdAndDamp();
    double last = before;
    for (int i = 1; i <= 180; i++) {
      double now = after(shop, Duration.ofHours(3).plusSeconds(10L * i)).airC();
      assertTrue(Math.abs(now - last) < 1, "jumped from " + last + " to " + now);
      last = now;
    }
    RoomTruth room = shop.truth();
    assertEquals(11, room.airC(), 1);
    assertEquals(88, room.humidityPct(), 4);
    shop.backToUsual();
    assertTrue(after(shop, Duration.ofHours(8)).airC() > 17);
  }

  @Test
  void theSameSeedGivesTheSameShop() {
    assertEquals(after(shop(), Duration.ofHours(9)), after(shop(), Duration.ofHours(9)));
  }

  @Property(tries = 20)
  void aMonthStaysInsideWhatARoomCanBe(@ForAll @LongRange(max = 1_000_000) long seed) {
    SimulatedShop shop = new SimulatedShop(NOON, ZoneOffset.UTC, seed);
    for (int hour = 0; hour < 30 * 24; hour++) {
      RoomTruth room = after(shop, Duration.ofHours(hour));
      assertTrue(room.airC() > 0 && room.airC() < 26, room.toString());
      assertTrue(room.humidityPct() > 20 && room.humidityPct() < 90, room.toString());
      assertTrue(room.vocRaw() > 20_000 && room.vocRaw() < 31_200, room.toString());
    }
  }
}
