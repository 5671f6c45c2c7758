package org.layroom.dashboard.broker;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.netty.buffer.ByteBuf;
import io.netty.buffer.Unpooled;
import io.netty.channel.Channel;
import io.netty.channel.embedded.EmbeddedChannel;
import io.netty.handler.codec.mqtt.MqttConnectMessage;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;

/** The first bytes of a connection, on stepped time. Packets: MQTT 3.1.1, sections 3.1 and 3.2. */
class FirstPacketTest {
  private static final byte[] CONNECT = {
    0x10,
    21,
    0,
    4,
    'M',
    'Q',
    'T',
    'T',
    4,
    (byte) 0xc2,
    0,
    0,
    0,
    1,
    'x',
    0,
    1,
    'y',
    0,
    3,
    'z',
    'z',
    'z'
  };

  private final List<RefusalLog.Reason> refused = new ArrayList<>();

  private EmbeddedChannel connection(boolean right) {
    return new EmbeddedChannel(
        new FirstPacket(
            new Gate() {
              @Override
              public boolean letsIn(MqttConnectMessage connect, Channel channel) {
                return right;
              }

              @Override
              public void refused(RefusalLog.Reason reason, Channel channel) {
                refused.add(reason);
              }
            }));
  }

  private static byte[] bytes(ByteBuf buffer) {
    byte[] all = new byte[buffer.readableBytes()];
    buffer.readBytes(all);
    buffer.release();
    return all;
  }

  @Test
  void aWrongLoginIsAnsweredAfterTwoSecondsAndNotBefore() {
    EmbeddedChannel channel = connection(false);
    channel.freezeTime();
    channel.writeInbound(Unpooled.copiedBuffer(CONNECT));
    channel.advanceTimeBy(1999, TimeUnit.MILLISECONDS);
    channel.runScheduledPendingTasks();
    assertTrue(channel.isOpen() && channel.outboundMessages().isEmpty(), "it waits");
    channel.advanceTimeBy(1, TimeUnit.MILLISECONDS);
    channel.runScheduledPendingTasks();
    ByteBuf answer = channel.readOutbound();
    assertArrayEquals(new byte[] {0x20, 2, 0, 5}, bytes(answer), "not authorized");
    assertFalse(channel.isOpen());
  }

  @Test
  void aRightLoginIsHandedOnByteByByteAsItCame() {
    EmbeddedChannel channel = connection(true);
    for (byte one : CONNECT) {
      assertEquals(0, channel.inboundMessages().size(), "nothing before it is whole");
      channel.writeInbound(Unpooled.copiedBuffer(new byte[] {one}));
    }
    ByteBuf whole = channel.readInbound();
    assertArrayEquals(CONNECT, bytes(whole));
    assertEquals(List.of(), refused);
  }

  private static byte[] withWill(int flags, String topic) {
    ByteBuf rest = Unpooled.buffer();
    rest.writeBytes(new byte[] {0, 4, 'M', 'Q', 'T', 'T', 4, (byte) flags, 0, 0, 0, 1, 'x'});
    rest.writeShort(topic.length()).writeCharSequence(topic, StandardCharsets.UTF_8);
    rest.writeBytes(new byte[] {0, 1, 'w'});
    ByteBuf packet = Unpooled.buffer().writeByte(0x10).writeByte(rest.readableBytes());
    packet.writeBytes(rest);
    rest.release();
    return bytes(packet);
  }

  /** MQTT 3.1.1, sections 3.1.2.6 and 4.7.3; the engine takes both and fails at the end. */
  @Test
  void aWillThatCannotBePublishedIsNoConnect() {
    connection(true).writeInbound(Unpooled.copiedBuffer(withWill(0x0e, "layroom/a/b/status")));
    assertEquals(List.of(), refused, "quality of service 1");
    connection(true).writeInbound(Unpooled.copiedBuffer(withWill(0x1e, "layroom/a/b/status")));
    connection(true).writeInbound(Unpooled.copiedBuffer(withWill(0x0e, "")));
    assertEquals(List.of(RefusalLog.Reason.NOT_MQTT, RefusalLog.Reason.NOT_MQTT), refused);
  }

  @Test
  void aLongConnectIsRefusedByItsLengthAlone() {
    connection(true).writeInbound(Unpooled.copiedBuffer(new byte[] {0x10, (byte) 0xff, 0x7f}));
    assertEquals(List.of(RefusalLog.Reason.LARGE_CONNECT), refused);
  }
}
