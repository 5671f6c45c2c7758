package org.layroom.dashboard.broker;

import io.netty.buffer.ByteBuf;
import io.netty.channel.ChannelFutureListener;
import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.embedded.EmbeddedChannel;
import io.netty.handler.codec.ByteToMessageDecoder;
import io.netty.handler.codec.mqtt.MqttConnectMessage;
import io.netty.handler.codec.mqtt.MqttDecoder;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/**
 * Holds the first bytes of a connection back until they are one whole CONNECT (MQTT 3.1.1 and 5,
 * section 3.1) of at most 4 KiB with a login that is right; read by the network library's own MQTT
 * codec. Only then the broker's engine sees the connection and those bytes. Anything else, another
 * protocol included, is closed. A wrong login is answered two seconds later, so that trying costs
 * time.
 */
@SuppressWarnings("FutureReturnValueIgnored") // the network library's: nobody waits for them
final class FirstPacket extends ByteToMessageDecoder {
  static final int LARGEST_CONNECT = 4096;

  private static final int WRONG_LOGIN_SECONDS = 2;
  private static final int CONNECT = 0x10;
  private static final int MOST_LENGTH_BYTES = 4;

  /** CONNACK "not authorized": MQTT 3.1.1, section 3.2.2.3; MQTT 5, section 3.2.2.2. */
  private static final byte[] NOT_AUTHORIZED = {0x20, 2, 0, 5};

  private static final byte[] NOT_AUTHORIZED_5 = {0x20, 3, 0, (byte) 0x87, 0};
  private static final int MQTT_5 = 5;
  private static final int MOST_QUALITY = 2;

  private final Gate gate;
  private boolean over;

  FirstPacket(Gate gate) {
    this.gate = gate;
  }

  @Override
  protected void decode(ChannelHandlerContext context, ByteBuf in, List<Object> out) {
    if (over) {
      in.skipBytes(in.readableBytes());
      return;
    }
    if (in.getUnsignedByte(in.readerIndex()) != CONNECT) {
      refuse(context, in, RefusalLog.Reason.NOT_MQTT);
      return;
    }
    Optional<Integer> whole = wholeLength(in);
    if (whole.isPresent() && whole.get() > LARGEST_CONNECT) {
      refuse(context, in, RefusalLog.Reason.LARGE_CONNECT);
    } else if (whole.isPresent() && in.readableBytes() >= whole.get()) {
      judge(context, in, whole.get());
    } else if (whole.isEmpty() && in.readableBytes() > MOST_LENGTH_BYTES) {
      refuse(context, in, RefusalLog.Reason.NOT_MQTT);
    }
  }

  /** Of the packet that begins here; empty while its length is not whole. */
  private static Optional<Integer> wholeLength(ByteBuf in) {
    int length = 0;
    for (int i = 1; i <= MOST_LENGTH_BYTES && i < in.readableBytes(); i++) {
      int next = in.getByte(in.readerIndex() + i);
      length |= (next & 0x7f) << (7 * (i - 1));
      if (next >= 0) {
        return Optional.of(1 + i + length);
      }
    }
    return Optional.empty();
  }

  private void judge(ChannelHandlerContext context, ByteBuf in, int length) {
    Optional<MqttConnectMessage> connect = read(in, length);
    if (connect.isEmpty()) {
      refuse(context, in, RefusalLog.Reason.NOT_MQTT);
    } else if (gate.letsIn(connect.get(), context.channel())) {
      over = true;
      context.pipeline().remove(this); // hands on what it held back
    } else {
      over = true;
      in.skipBytes(in.readableBytes());
      byte[] answer =
          connect.get().variableHeader().version() == MQTT_5 ? NOT_AUTHORIZED_5 : NOT_AUTHORIZED;
      context
          .executor()
          .schedule(
              () ->
                  context
                      .writeAndFlush(context.alloc().buffer().writeBytes(answer))
                      .addListener(ChannelFutureListener.CLOSE),
              WRONG_LOGIN_SECONDS,
              TimeUnit.SECONDS);
    }
  }

  private static Optional<MqttConnectMessage> read(ByteBuf in, int length) {
    EmbeddedChannel codec = new EmbeddedChannel(new MqttDecoder(LARGEST_CONNECT));
    try {
      codec.writeInbound(in.retainedSlice(in.readerIndex(), length));
      return codec.readInbound() instanceof MqttConnectMessage connect
              && connect.decoderResult().isSuccess()
              && willCanBePublished(connect)
          ? Optional.of(connect)
          : Optional.empty();
    } finally {
      codec.finishAndReleaseAll();
    }
  }

  /** The codec takes any will, and so does the engine, which fails when it is to publish it. */
  private static boolean willCanBePublished(MqttConnectMessage connect) {
    @Nullable String topic = connect.payload().willTopic();
    return !connect.variableHeader().isWillFlag()
        || (connect.variableHeader().willQos() <= MOST_QUALITY
            && topic != null
            && !topic.isEmpty());
  }

  private void refuse(ChannelHandlerContext context, ByteBuf in, RefusalLog.Reason reason) {
    over = true;
    in.skipBytes(in.readableBytes());
    gate.refused(reason, context.channel());
  }
}
