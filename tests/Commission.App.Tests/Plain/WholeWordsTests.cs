using Commission.App.Plain;
using Commission.Core.Motion;
using CsCheck;

namespace Commission.App.Tests.Plain;

/// <summary>Lines on a terminal: no word is cut, and a line stays one line.</summary>
public sealed class WholeWordsTests
{
    [Fact]
    public void No_word_is_cut_where_a_row_is_full_and_no_word_is_lost() => Gen.Select(Gen.String[Gen.Char['a', 'z'], 1, 30].List[1, 60], Gen.Int[30, 200]).Sample((words, columns) =>
    {
        var filled = WholeWords.Filled(string.Join(' ', words), columns);
        Assert.DoesNotContain('\n', filled);
        Assert.Equal(words, filled.Split(' ', StringSplitOptions.RemoveEmptyEntries));
        for (var edge = columns; edge < filled.Length; edge += columns)
            Assert.True(filled[edge] == ' ' || filled[edge - 1] == ' ', filled);
    }, seed: "0000KqYTxgB3");

    [Fact]
    public void A_line_that_fits_or_whose_room_is_not_known_is_left_as_it_is_and_what_ends_a_prompt_stays_at_its_end()
    {
        const string Prompt = "ask motion scale: X goes from 1.000 to 26.000. Type the words at the end to move, Q to put the run aside. go X+25";
        Assert.Equal("recorded 1", WholeWords.Filled("recorded 1", 80));
        Assert.Equal(Prompt, WholeWords.Filled(Prompt, 0));
        Assert.EndsWith(" go X+25", WholeWords.Filled(Prompt, 40), StringComparison.Ordinal);
    }

    // Found by use: what is set in under a line stood at the edge where it was longer than the row.
    [Fact]
    public void What_is_set_in_stays_set_in_where_it_is_longer_than_a_row() =>
        Assert.StartsWith("  Hands away before each move. ", WholeWords.Filled("  Hands away before each move. The dial gives way by 2 mm more.", 40), StringComparison.Ordinal);

    // Found in use: "go" stood at the end of a row and "X+138.25" on the next.
    [Fact]
    public void What_is_typed_or_copied_as_it_stands_is_on_one_row_wherever_a_row_ends()
    {
        string[] tokens =
        [
            .. new MotionAct[]
            {
                new MotionAct.Go([new(AxisName.X, 138.25, 600)], 600), new MotionAct.Go([new(AxisName.Z, -0.125, 100)], 100), new MotionAct.Home(), new MotionAct.Unlock(),
                new MotionAct.SetReference(AxisName.X, 0), new MotionAct.SetReference(AxisName.Y, 0), new MotionAct.SetReference(AxisName.Z, 90),
            }.Select(act => act.Token),
            "G21 G90 G1 X138.25 F600", "G20 G91 G1 Z-0.0049 F3.9",
        ];
        foreach (var token in tokens)
        {
            for (var before = 0; before < 80; before++)
            {
                foreach (var (line, end) in new[] { ($"ask motion scale: {new string('a', before)} run aside. {token}", token), ($"{new string('a', before + 1)}. Type exactly: {token}. Then go on.", token + ".") })
                {
                    var filled = WholeWords.Filled(line, 40);
                    var at = filled.IndexOf(end, StringComparison.Ordinal);
                    Assert.True(at >= 0 && at / 40 == (at + end.Length - 1) / 40, filled);
                }
            }
        }
    }
}
