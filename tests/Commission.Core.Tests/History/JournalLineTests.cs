using System.Collections;
using System.Reflection;
using System.Text;
using Commission.Core.History;

namespace Commission.Core.Tests.History;

public sealed class JournalLineTests
{
    private static readonly DateTimeOffset At = new DateTimeOffset(2031, 10, 26, 2, 30, 0, TimeSpan.FromHours(2)).AddTicks(1234567);

    private static JournalEntry Entry(EntryBody body) => new("abc123:42", 42, At, body);

    private static byte[] Line(EntryBody body) => JournalLine.Write(Entry(body), JournalLine.NoPrevious).Require();

    public static TheoryData<int> Types => new(Enumerable.Range(0, EveryEntry.Bodies.Length));

    [Theory]
    [MemberData(nameof(Types))]
    public void Every_type_of_entry_comes_back_to_the_byte(int type)
    {
        var body = EveryEntry.Filled.ElementAt(type);
        var line = Line(body);
        var read = JournalLine.Read(line).Require();
        Assert.Equal(body.GetType(), read.Body.GetType());
        Assert.Equal(At, read.At);
        Assert.Equal(At.Offset, read.At.Offset);
        Assert.Equal(Encoding.UTF8.GetString(line), Encoding.UTF8.GetString(JournalLine.Write(read, JournalLine.NoPrevious).Require()));
        AssertSame(body, read.Body, body.GetType().Name);
    }

    [Theory]
    [MemberData(nameof(Types))]
    public void An_entry_with_nothing_optional_comes_back(int type)
    {
        var line = Line(EveryEntry.Bodies[type]);
        Assert.Equal(line, JournalLine.Write(JournalLine.Read(line).Require(), JournalLine.NoPrevious).Require());
    }

    [Fact]
    public void Every_body_has_an_example()
    {
        var known = typeof(EntryBody).GetNestedTypes().Where(type => type.IsSubclassOf(typeof(EntryBody)) && type != typeof(EntryBody.Unknown));
        Assert.Equal(known.Select(type => type.Name).Order(), EveryEntry.Bodies.Select(body => body.GetType().Name).Order());
    }

    [Fact]
    public void Every_type_word_is_known() => Assert.Equal(
        JournalLine.Types.Order(), EveryEntry.Bodies.Select(body => JournalLine.Place(Line(body))!.Value.Type).Order());

    [Fact]
    public void A_reading_stands_as_the_contract_has_it()
    {
        var text = Encoding.UTF8.GetString(Line(EveryEntry.Filled.OfType<EntryBody.ReadingTaken>().Single() with { Typed = "20.01", Place = "far" }));
        Assert.StartsWith("""
            {"format":"commission.journal/1","id":"abc123:42","sequence":42,"at":"2031-10-26T02:30:00.1234567+02:00","type":"reading","recorded":3,"place":"far","typed":"20.01","understood":{"value":20.01,"unit":"mm"},
            """, text, StringComparison.Ordinal);
        Assert.Matches("\"previous\":\"0{64}\",\"self\":\"[0-9a-f]{64}\"}$", text);
    }

    [Fact]
    public void Every_flipped_bit_of_a_line_is_seen()
    {
        var line = Line(EveryEntry.Bodies[9]);
        Assert.NotNull(JournalLine.Place(line));
        for (var bit = 0; bit < line.Length * 8; bit++)
        {
            line[bit / 8] ^= (byte)(1 << (bit % 8));
            Assert.Null(JournalLine.Place(line));
            line[bit / 8] ^= (byte)(1 << (bit % 8));
        }
    }

    [Fact]
    public void An_unknown_type_is_kept_apart_and_not_an_error()
    {
        var read = JournalLine.Read(Sealed("\"type\":\"dream\",\"colour\":{\"a\":[1]}")).Require();
        Assert.Equal("dream", Assert.IsType<EntryBody.Unknown>(read.Body).Type);
    }

    [Fact]
    public void A_line_of_a_newer_format_counts_as_an_unknown_type()
    {
        var read = JournalLine.Read(Sealed("\"type\":\"noted\",\"text\":\"x\"", "commission.journal/2")).Require();
        Assert.Equal("commission.journal/2", Assert.IsType<EntryBody.Unknown>(read.Body).Type);
    }

    [Theory]
    [InlineData("\"type\":\"noted\",\"text\":\"x\",\"mood\":\"good\"", "mood is not known here")]
    [InlineData("\"type\":\"noted\"", "text is missing")]
    [InlineData("\"type\":\"noted\",\"text\":\"x\",\"text\":\"y\"", "text stands twice")]
    [InlineData("\"type\":\"noted\",\"text\":7", "text is not a text")]
    [InlineData("\"type\":\"excluded\",\"reading\":1.5,\"reason\":\"x\"", "reading is not a whole number")]
    [InlineData("\"type\":\"setting-written\",\"name\":\"n\",\"after\":1e400,\"stage\":\"told\"", "after is not a number")]
    [InlineData("\"type\":\"store-born\",\"nature\":\"dreamt\",\"store\":\"a\",\"program\":\"1\"", "nature is not one of real, practice")]
    [InlineData("\"type\":\"machine\",\"description\":{\"name\":\"Heron\"},\"retired\":false", "description.travelMm")]
    public void What_does_not_fit_its_type_is_told(string properties, string expected)
    {
        var bad = Assert.IsType<Outcome<JournalEntry>.Bad>(JournalLine.Read(Sealed(properties)));
        if (!expected.Contains("travelMm", StringComparison.Ordinal))
            Assert.Contains(expected, bad.Problems[0].What, StringComparison.Ordinal);
        else
            Assert.Contains("description.units is missing", bad.Problems[0].What, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.NegativeInfinity)]
    public void A_number_that_is_none_is_refused(double value) => Assert.IsType<Outcome<byte[]>.Bad>(
        JournalLine.Write(Entry(new EntryBody.SettingWritten { Name = "n", After = value, Stage = "told" }), JournalLine.NoPrevious));

    [Fact]
    public void Half_a_surrogate_pair_does_not_stop_a_note()
    {
        var read = JournalLine.Read(Line(new EntryBody.Noted(null, "a\uD800b"))).Require();
        Assert.Equal("a\uFFFDb", Assert.IsType<EntryBody.Noted>(read.Body).Text);
    }

    private static byte[] Sealed(string properties, string format = "commission.journal/1") => JournalLine.Sealed(Encoding.UTF8.GetBytes(
        $$"""{"format":"{{format}}","id":"abc123:42","sequence":42,"at":"2031-10-26T02:30:00.1234567+02:00",{{properties}},"previous":"{{JournalLine.NoPrevious}}" """.TrimEnd()));

    // Compares by content and refuses an expected value at its default: a forgotten property cannot pass.
    private static void AssertSame(object? expected, object? actual, string path)
    {
        Assert.True(expected is not null, path + " has no example value");
        Assert.True(actual is not null, path + " was lost");
        if (expected is string or double or bool or int or long or Enum || expected.GetType().Namespace?.StartsWith("System", StringComparison.Ordinal) == true && expected is not IEnumerable)
        {
            Assert.Equal(expected, actual);
            return;
        }

        if (expected is IEnumerable items)
        {
            var (one, other) = (items.Cast<object>().ToArray(), ((IEnumerable)actual).Cast<object>().ToArray());
            Assert.True(one.Length > 0 && one.Length == other.Length, path + " differs in length");
            if (one[0].GetType() is { IsGenericType: true } kind && kind.GetGenericTypeDefinition() == typeof(KeyValuePair<,>))
                Assert.Equal(one.ToHashSet(), other.ToHashSet());
            else
                for (var at = 0; at < one.Length; at++)
                    AssertSame(one[at], other[at], $"{path}[{at}]");
            return;
        }

        foreach (var property in expected.GetType().GetProperties(BindingFlags.Public | BindingFlags.Instance).Where(property => property.GetIndexParameters().Length == 0))
            AssertSame(property.GetValue(expected), property.GetValue(actual), $"{path}.{property.Name}");
    }
}
