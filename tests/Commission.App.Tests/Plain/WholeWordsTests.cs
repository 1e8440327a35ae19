using Commission.App.Plain;
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
}
