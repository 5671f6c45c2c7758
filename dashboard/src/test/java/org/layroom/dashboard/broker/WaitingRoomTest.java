package org.layroom.dashboard.broker;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.netty.channel.Channel;
import io.netty.channel.embedded.EmbeddedChannel;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Who waits for a login makes room for who comes after. */
class WaitingRoomTest {
  private final WaitingRoom waiting = new WaitingRoom();
  private final List<Channel> channels = new ArrayList<>();

  private Optional<Channel> enter() {
    Channel channel = new EmbeddedChannel();
    channels.add(channel);
    return waiting.enter(channel);
  }

  @Test
  void whoHasWaitedLongestMakesRoomAndWhoHasLeftDoesNot() {
    for (int i = 0; i < WaitingRoom.MOST_OF_ONE_ADDRESS; i++) {
      assertEquals(Optional.empty(), enter(), "there is room for " + i);
    }
    assertEquals(Optional.of(channels.get(0)), enter());
    waiting.leave(channels.get(0));
    waiting.leave(channels.get(0));
    waiting.leave(channels.get(1));
    assertEquals(Optional.empty(), enter(), "one has logged in");
    assertEquals(Optional.of(channels.get(2)), enter());
  }

  @Test
  void whoIsNotThereCanLeave() {
    waiting.leave(new EmbeddedChannel());
    assertEquals(Optional.empty(), enter());
  }
}
