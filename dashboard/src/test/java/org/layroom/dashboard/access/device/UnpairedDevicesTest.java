package org.layroom.dashboard.access.device;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.layroom.device.telemetry.Channel;

class UnpairedDevicesTest {
  private Instant now = Instant.parse("2026-03-16T08:00:00Z");
  private final UnpairedDevices unpaired = new UnpairedDevices(() -> now);

  private List<String> names() {
    return unpaired.lately().stream().map(one -> one.channel().user()).toList();
  }

  @Test
  void theNameIsThatOfTheLoginElseOfTheClientElseOfTheWill() {
    unpaired.refused("shop.bench", "layroom-shop.door", "layroom/shop/annex/status");
    unpaired.refused("", "layroom-shop.door", "layroom/shop/annex/status");
    unpaired.refused("", "a-board", "layroom/shop/annex/status");
    assertEquals(List.of("shop.annex", "shop.bench", "shop.door"), names());
    assertTrue(unpaired.lately().get(1).withPassword());
    assertFalse(unpaired.lately().get(2).withPassword());
  }

  @Test
  void whatCannotBeADeviceIsNotNamed() {
    unpaired.refused("", "layroom-shop.<b>bench", "");
    unpaired.refused("", "bench", "layroom/shop/verdict");
    unpaired.refused("layroom-dashboard", "x", "");
    assertEquals(List.of(), names());
  }

  @Test
  void aStormOfNamesKeepsTheNewest() {
    for (int i = 0; i < 1000; i++) {
      unpaired.refused("", "layroom-shop.board-" + i, "");
    }
    assertEquals(UnpairedDevices.MOST, names().size());
    assertTrue(names().contains("shop.board-999"));
  }

  @Test
  void whoAsksNoMoreIsForgottenAndWhoIsInIsNot() {
    unpaired.refused("", "layroom-shop.bench", "");
    unpaired.refused("", "layroom-shop.door", "");
    unpaired.entered(Channel.of("shop", "bench"));
    assertEquals(List.of("shop.door"), names());
    now = now.plus(UnpairedDevices.FORGOTTEN_AFTER).plus(Duration.ofSeconds(1));
    assertEquals(List.of(), names());
  }
}
