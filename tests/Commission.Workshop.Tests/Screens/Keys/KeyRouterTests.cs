using Commission.Tests;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Keys;
using CsCheck;

namespace Commission.Workshop.Tests.Screens.Keys;

public class KeyRouterTests
{
    private static readonly KeyScene Readings = new()
    {
        Cell = true,
        Deeds = [new("R", "read again", "again"), new("Q", "leave", "leave", "from the bench only")],
    };

    private static readonly KeyScene Bench = new() { Deeds = [new("Q", "leave", "leave")] };

    private static KeyScene Box(long drawnAt = 0) => new() { Box = new('Y', drawnAt) };

    /// <summary>Types characters with a gap; '\n' is Enter, '\t' Tab. Ends with a tick long after.</summary>
    private static List<KeyAct> Typed(KeyScene scene, string keys, long gap, long start = 10_000)
    {
        var router = new KeyRouter();
        var acts = new List<KeyAct>();
        var at = start;
        foreach (var c in keys)
        {
            (router, var some) = router.After(scene, c == '\n' ? KeyPress.Of(NamedKey.Enter, at) : c == '\t' ? KeyPress.Of(NamedKey.Tab, at) : KeyPress.Of(c, at));
            acts.AddRange(some);
            at += gap;
        }

        acts.AddRange(router.Tick(scene, at + 1000).Acts);
        return acts;
    }

    [Fact]
    public void Digits_point_and_comma_go_to_the_cell_and_Enter_accepts()
    {
        var acts = Typed(Readings with { CellHasText = true }, "8,49\n", gap: 120);
        Assert.Equal([new KeyAct.Type('8'), new KeyAct.Type(','), new KeyAct.Type('4'), new KeyAct.Type('9'), new KeyAct.Accept()], acts);
    }

    [Theory]
    [InlineData(120)]
    [InlineData(3)]
    public void A_slash_behind_a_digit_takes_nothing_back_and_is_no_digit_less(long gap)
    {
        var acts = Typed(Readings with { CellHasText = true }, "1/4\n", gap);
        Assert.Equal([new KeyAct.Type('1'), new KeyAct.Type('/'), new KeyAct.Type('4'), new KeyAct.Accept()], acts);
        Assert.Equal(new KeyAct.Deed("again"), Assert.Single(Typed(Readings, "/", gap: 120)));
    }

    [Fact]
    public void A_caliper_burst_is_taken_by_the_cell() =>
        Assert.Equal(new KeyAct.Accept(), Typed(Readings, "146.45\n", gap: 2)[^1]);

    [Fact]
    public void A_burst_where_nothing_takes_one_is_shown_and_its_Enter_follows_nothing()
    {
        var acts = Typed(Bench, "20.01\n", gap: 2);
        Assert.DoesNotContain(acts, act => act is KeyAct.FollowNext or KeyAct.Deed or KeyAct.Place);
        Assert.Equal("A reading arrived, 20.01, and nothing here takes one. It was not used.", Assert.IsType<KeyAct.NotUsed>(acts[^1]).Why);
    }

    [Fact]
    public void The_same_burst_twice_within_a_second_counts_once()
    {
        var acts = Typed(Readings, "8.49\n8.49\n", gap: 3);
        Assert.Single(acts.OfType<KeyAct.Accept>());
        Assert.Single(acts.OfType<KeyAct.ClearCell>());
    }

    [Fact]
    public void Letters_that_a_device_sends_inside_a_number_are_dropped()
    {
        var acts = Typed(Readings with { CableCaliperDecimals = 2 }, "L8.49W\n", gap: 2);
        Assert.DoesNotContain(acts, act => act is KeyAct.Place or KeyAct.Deed);
        Assert.Equal("8.49", string.Concat(acts.OfType<KeyAct.Type>().Select(t => t.Character)));
    }

    [Theory]
    [InlineData("8.49\n")]
    [InlineData("146.451\t")]
    [InlineData("0\n")]
    [InlineData("Y1.23\n")]
    [InlineData("12Y\n")]
    [InlineData("863\nY")]
    [InlineData("\nY")]
    [InlineData(" ")]
    public void Nothing_that_a_caliper_types_confirms_a_box(string keys) =>
        Assert.DoesNotContain(Typed(Box(), keys, gap: 2), act => act is KeyAct.Confirm);

    [Fact]
    public void No_burst_whatever_is_in_it_confirms_a_box() =>
        Gen.String[Gen.Char["0123456789.,+-XYZHS \n\t"], 2, 12].SampleFixed(
            keys => Assert.DoesNotContain(Typed(Box(), keys, gap: 5), act => act is KeyAct.Confirm));

    [Fact]
    public void The_letter_of_the_axis_confirms_after_half_a_second_alone()
    {
        Assert.Equal([new KeyAct.Confirm('Y')], Typed(Box(), "y", gap: 0, start: 600));
        Assert.IsType<KeyAct.BoxWaits>(Assert.Single(Typed(Box(), "y", gap: 0, start: 400)));
    }

    [Theory]
    [InlineData('X')]
    [InlineData('B')]
    [InlineData('S')]
    [InlineData('5')]
    public void Another_key_leaves_the_box_open_and_says_which_one_it_waits_for(char key) =>
        Assert.Equal("The box waits for Y. Enter or Esc: do not.", Assert.IsType<KeyAct.BoxWaits>(Assert.Single(Typed(Box(), key.ToString(), gap: 0))).Why);

    [Fact]
    public void In_a_box_a_deed_that_only_looks_is_done_and_the_letters_that_act_are_never_a_deed()
    {
        var box = Box() with { Deeds = [new("Y", "write", "confirm"), new("D", "exact text", "wire"), new("X", "x", "x"), new("Z", "z", "z"), new("H", "h", "h")] };
        Assert.Equal([new KeyAct.Deed("wire")], Typed(box, "d", gap: 0));
        foreach (var letter in (string[])["x", "z", "h"])
            Assert.IsType<KeyAct.BoxWaits>(Assert.Single(Typed(box, letter, gap: 0)));
        Assert.DoesNotContain(Typed(box, "dy", gap: 5), act => act is KeyAct.Confirm);
    }

    [Fact]
    public void Enter_in_a_box_means_do_not() => Assert.Equal([new KeyAct.Decline()], Typed(Box(), "\n", gap: 0));

    [Fact]
    public void Space_presses_the_button_only_after_Tab_has_reached_it()
    {
        Assert.IsType<KeyAct.BoxWaits>(Assert.Single(Typed(Box(), " ", gap: 0)));
        Assert.Equal([new KeyAct.ReachButton()], Typed(Box(), "\t", gap: 0));
        Assert.Equal([new KeyAct.Confirm('Y')], Typed(new() { Box = new('Y', 0, ButtonFocused: true) }, " ", gap: 0));
    }

    [Fact]
    public void While_it_moves_every_key_stops()
    {
        var scene = Readings with { Moving = new('Y', 0) };
        foreach (var name in Enum.GetValues<NamedKey>().Where(n => n != NamedKey.None))
        {
            Assert.IsType<KeyAct.Stop>(Assert.Single(new KeyRouter().After(scene, KeyPress.Of(name, 5000)).Acts));
        }

        for (var c = ' '; c <= '~'; c++)
        {
            Assert.IsType<KeyAct.Stop>(Assert.Single(Typed(scene, c.ToString(), gap: 0, start: 5000)));
        }
    }

    [Fact]
    public void The_confirming_letter_held_down_does_not_stop_but_pressed_anew_it_does()
    {
        var scene = Readings with { Moving = new('Y', 10_000) };
        Assert.Empty(Typed(scene, new string('y', 60), gap: 30, start: 10_040));
        Assert.IsType<KeyAct.Stop>(Assert.Single(Typed(scene, "y", gap: 0, start: 12_000)));
    }

    [Fact]
    public void A_well_formed_number_of_the_caliper_with_a_cable_is_held_back_and_does_not_stop()
    {
        var scene = Readings with { Moving = new('Y', 0), CableCaliperDecimals = 2 };
        Assert.IsType<KeyAct.NotUsed>(Assert.Single(Typed(scene, "146.45\n", gap: 3)));
        Assert.IsType<KeyAct.Stop>(Typed(scene, "146.451\n", gap: 3)[0]);
        Assert.IsType<KeyAct.Stop>(Typed(scene, "789\n", gap: 3)[0]);
        Assert.IsType<KeyAct.Stop>(Assert.Single(Typed(scene, "7", gap: 0)));
        Assert.IsType<KeyAct.Stop>(Typed(Readings with { Moving = new('Y', 0) }, "146.45\n", gap: 3)[0]);
    }

    [Fact]
    public void F9_stops_from_a_box_a_text_field_and_a_cell()
    {
        foreach (var scene in new[] { Box(), Bench with { TextField = true }, Readings, Bench })
        {
            Assert.IsType<KeyAct.Stop>(Assert.Single(new KeyRouter().After(scene, KeyPress.Of(NamedKey.Stop, 1)).Acts));
        }
    }

    [Fact]
    public void Deeds_come_before_places_and_say_why_not_now()
    {
        Assert.Equal([new KeyAct.Deed("again")], Typed(Readings, "r", gap: 0));
        Assert.Equal([new KeyAct.Nothing("Q leave: from the bench only")], Typed(Readings, "q", gap: 0));
        Assert.Equal([new KeyAct.Place('K')], Typed(Readings, "k", gap: 0));
        Assert.Equal([new KeyAct.Nothing("J does nothing here. F2 shows what does.")], Typed(Readings, "j", gap: 0));
    }

    [Fact]
    public void A_letter_repeated_within_80_ms_counts_once_and_digits_do_not()
    {
        Assert.Single(Typed(Bench, "qq", gap: 60).OfType<KeyAct.Deed>());
        Assert.Equal(2, Typed(Readings, "11", gap: 60).OfType<KeyAct.Type>().Count());
    }

    [Fact]
    public void In_a_text_field_letters_are_text() =>
        Assert.Equal([new KeyAct.Type('q'), new KeyAct.Accept()], Typed(Bench with { TextField = true }, "q\n", gap: 200));

    [Fact]
    public void Slash_and_star_of_the_number_pad_read_again_and_note() =>
        Assert.Equal([new KeyAct.Deed("again")], Typed(Readings, "/", gap: 0));

    [Fact]
    public void A_place_that_stands_in_the_last_row_is_gone_to_by_its_letter()
    {
        var scene = new KeyScene { Deeds = [new("Enter", "next", "next"), new("W", "work", "place")] };
        Assert.Equal([new KeyAct.Place('W')], new KeyRouter().After(scene, KeyPress.Of('w', 1000)).Acts);
    }
}
